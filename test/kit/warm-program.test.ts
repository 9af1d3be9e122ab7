import { relative } from "node:path";
import { expect, test } from "vitest";
import { SHORT_SEQUENCE, workplace } from "./limber.ts";

/** Most tests of commands call the program without starting it. Here it is started as well, and must say and do the same. */
test.each<{ calls: string; codes: readonly number[] }>([
  { calls: "--help", codes: [0] },
  { calls: "strat | sweep --output cable | sweep", codes: [2, 2, 2] },
  { calls: "runs | runs --journal nowhere.db | sheet x --journal /dev/null/journal.db", codes: [0, 2, 3] },
  { calls: "profile check broken.yaml | rack check demo | share join", codes: [2, 0, 3] },
  {
    calls:
      "sweep --watcher 1 --fast --serial A-17 --person KM --set iris-leaf-kinked --sequence short.yaml | runs | " +
      "hold A-17 --why heat --person KM | history A-17 | export --csv | sheet A-18",
    codes: [0, 0, 0, 0, 0, 2],
  },
])("limber $calls: called or started, the same", ({ calls, codes }) => {
  const [started, called] = [workplace(), workplace()].map((place, index) => {
    for (const [name, text] of Object.entries({ "short.yaml": SHORT_SEQUENCE, "broken.yaml": "profile: [oops\n" }))
      place.file(name, text);
    const ended = calls
      .split(" | ")
      .map((call) => call.split(" ").map((word) => (word.endsWith(".yaml") ? `${place.folder}/${word}` : word)))
      .map((words) => (index === 0 ? place.started(...words) : place.limber(...words)));
    place.remove();
    return ended.map(({ code, out, err }) => ({ code, told: withoutFolder(`${out}${err}`, place.folder) }));
  });
  expect(called?.map(({ code }) => code)).toEqual(codes);
  expect(called?.map(alike)).toEqual(started?.map(alike));
});

/** A folder is said by its shortest way, which hangs on where the tests are run. */
const withoutFolder = (told: string, folder: string): string =>
  told.replaceAll(folder, "").replaceAll(relative(process.cwd(), folder), "");

/** Names of runs, digests and times are others each time. */
const alike = ({ code, told }: { readonly code: number | null; readonly told: string }) => ({
  code,
  told: told
    .replaceAll(/\d{8}-\d{4}-[0-9a-f]{6}/g, "RUN")
    .replaceAll(/\d{4}-\d\d-\d\d([T ]\d\d:\d\d(:\d\d(\.\d+)?)?)?/g, "TIME")
    .replaceAll(/\b[0-9a-f]{4,}\b/g, "HEX")
    .replaceAll(/\d+ min;/g, "MINUTES;"),
});
