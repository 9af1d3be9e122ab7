import { writeFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { argv } from "node:process";
import { pathToFileURL } from "node:url";
import { type RunEvent, runEvent } from "../../../src/run/events/event.ts";
import { event } from "../../io/store/event.ts";
import { type Row, row, table } from "../line/row.ts";
import { inFolder, longestStop, openBuilt, timed } from "./rooms.ts";

const RUNS = 500;

/** Reading many events, checked, beside a file of JSON lines read whole, checked as well. */
export const readBench = (count = 100_000): Promise<readonly Row[]> =>
  inFolder(async (folder) => {
    const [file, lines] = [join(folder, "many.db"), join(folder, "many.jsonl")];
    const events = Array.from({ length: count }, (_, n) => event(`${n}`, { run: `run-${n % RUNS}` }));
    const written = await timed(() => fill(file, events));
    writeFileSync(lines, events.map((each) => `${JSON.stringify(each)}\n`).join(""));
    const opened = await timed(async () => (await openBuilt(file)).close());
    const journal = await openBuilt(file);
    const rows = [
      row(`write ${count} in one go`, "ms", written),
      row(`open, check and close with ${count}`, "ms", opened),
      row(`read ${count}`, "ms", await timed(() => journal.events()), await timed(() => fromLines(lines))),
      row(
        "longest stop of the frames meanwhile",
        "ms",
        await longestStop(() => journal.events()),
        await longestStop(() => fromLines(lines)),
      ),
      row(
        `read one run of ${count / RUNS} among them`,
        "ms",
        await timed(() => journal.events("run-7")),
        await timed(async () => (await fromLines(lines)).filter(({ run }) => run === "run-7")),
      ),
    ];
    await journal.close();
    return rows;
  });

const fill = async (file: string, events: readonly RunEvent[]) => {
  const journal = await openBuilt(file);
  await Promise.all(events.map((each) => journal.append(each)));
  await journal.close();
};

const fromLines = async (file: string): Promise<readonly RunEvent[]> =>
  (await readFile(file, "utf8"))
    .split("\n")
    .slice(0, -1)
    .map((line) => runEvent.parse(JSON.parse(line)));

if (pathToFileURL(argv[1] ?? "").href === import.meta.url) console.log(table(await readBench()));
