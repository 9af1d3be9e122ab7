import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { viewOf } from "../../src/run/events/view.ts";
import { built } from "../kit/built.ts";
import { SHORT_SEQUENCE, untilJudged, workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());
const short = place.file("short.yaml", SHORT_SEQUENCE);
const FAST = ["--watcher", "1", "--fast", "--journal", place.journal];

interface Listed {
  readonly run: string;
  readonly ended: string;
  readonly serial: string;
  readonly simulated: boolean;
  readonly judged: number;
  readonly steps: number;
}
const listed = async (): Promise<readonly Listed[]> =>
  JSON.parse(place.limber("runs", "--json", "--journal", place.journal).out) as Listed[];
/** Read by the built program's own journal: its worker thread is a compiled file. */
const bodiesIn = async (file: string, run?: string) => {
  const { openJournal } = (await import(
    join(built(), "io/store/journal.js")
  )) as typeof import("../../src/io/store/journal.ts");
  const journal = await openJournal(file);
  try {
    return [...(await journal.events(run))];
  } finally {
    await journal.close();
  }
};
const viewIn = async (run: string) => viewOf((await bodiesIn(place.journal, run)).map(({ body }) => body));

let first: Listed;
beforeAll(async () => {
  const { code, err } = place.limber("sweep", "--sequence", short, "--serial", "A-17", "--person", "KM", ...FAST);
  expect({ code, err }).toEqual({ code: 0, err: "" });
  first = (await listed())[0]!;
}, 120_000);

test("a run is in the journal with its serial number, finished, marked as simulated", () => {
  expect(first).toMatchObject({ serial: "A-17", ended: "finished", simulated: true, judged: 5, steps: 5 });
});

test("its job sheet can be printed again, by the beginning of its name", async () => {
  const { code, out } = place.limber("sheet", first.run.slice(0, 15), "--journal", place.journal);
  expect(code).toBe(0);
  expect(out).toContain("Job sheet: A-17");
});

test("the short code at the end of its name, as a label prints it, names it too", () => {
  const { code, out } = place.limber("sheet", first.run.split("-").at(-1)!, "--journal", place.journal);
  expect({ code, head: out.split("\n")[0] }).toEqual({ code: 0, head: "Job sheet: A-17" });
});

test("a misspelt journal is not an empty one", () => {
  const { code, out, err } = place.limber("runs", "--journal", join(place.folder, "nowhere.db"));
  expect({ code, out }).toEqual({ code: 2, out: "" });
  expect(err).toContain("there is no journal here");
});

test("a file that cannot be written is told in words", () => {
  const nowhere = join(place.folder, "no", "such", "out.json");
  const { code, err } = place.limber("export", "--json", "--journal", place.journal, "--out", nowhere);
  expect({ code, err }).toEqual({ code: 3, err: `${nowhere}: not written, there is no such file or folder\n` });
});

test("a replay has the same fingerprints, also after its sequence file has changed, and says so", async () => {
  place.file("short.yaml", SHORT_SEQUENCE.replace("times: 2", "times: 9"));
  const { code, err } = place.limber("replay", first.run, ...FAST);
  place.file("short.yaml", SHORT_SEQUENCE);
  expect(code).toBe(0);
  expect(err).toContain('The sequence "short" is not here today; the replay uses the one saved with the run.');
  const again = (await listed()).find(({ run }) => run !== first.run)!;
  const [kept, replayed] = [await viewIn(first.run), await viewIn(again.run)];
  expect(replayed.opened?.replays).toBe(first.run);
  expect(replayed.steps.map(({ fingerprint }) => fingerprint)).toEqual(
    kept.steps.map(({ fingerprint }) => fingerprint),
  );
}, 60_000);

test("a finished run is not resumed", async () => {
  expect(place.limber("resume", first.run, ...FAST)).toMatchObject({ code: 2 });
});

test("a run that was killed goes on at its open step, with every result it had", async () => {
  const journal = `${place.journal}-killed`;
  const running = place.starting("sweep", "--sequence", short, "--watcher", "1", "--journal", journal);
  await untilJudged(journal);
  running.kill("SIGKILL");
  await new Promise((resolve) => running.once("exit", resolve));
  const before = await bodiesIn(journal);
  expect(before.some(({ body }) => body.kind === "run-closed")).toBe(false);
  const { code, out } = place.limber("resume", before[0]!.run, "--watcher", "1", "--fast", "--journal", journal);
  expect(code).toBe(0);
  expect(out).toContain("finished.");
  const after = await bodiesIn(journal);
  const view = viewOf(after.map(({ body }) => body));
  expect(view.closed).toBe("finished");
  expect(view.steps.every(({ judged }) => judged)).toBe(true);
  expect(after.slice(0, before.length)).toEqual(before);
}, 120_000);

test("a simulated fixture whose sequence has no power-up is up and lit already: what was set shows", async () => {
  const journal = `${place.journal}-set`;
  const { out } = place.limber(
    "sweep",
    "--sequence",
    short,
    "--set",
    "iris-leaf-kinked",
    "--watcher",
    "1",
    "--fast",
    "--journal",
    journal,
  );
  expect(out).toContain("iris: opening is not round");
}, 60_000);
