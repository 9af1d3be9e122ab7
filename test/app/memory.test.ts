import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { afterAll, beforeAll, expect, test } from "vitest";
import { exportFile } from "../../src/reports/export-schema.ts";
import type { RunEvent } from "../../src/run/events/event.ts";
import type { RunSummary } from "../../src/run/events/summary.ts";
import { built, program } from "../kit/built.ts";
import { SHORT_SEQUENCE, untilJudged, workplace } from "../kit/limber.ts";
import { inTerminal } from "../kit/terminal.ts";

const place = workplace();
afterAll(() => place.remove());
const short = place.file("short.yaml", SHORT_SEQUENCE);
const FAST = ["--watcher", "1", "--fast", "--sequence", short];
const SERIAL = '=A"17, #2';
const NOTE = "two\nlines, @SUM(1) \u001b[2J";
const limber = (...args: readonly string[]) => place.limber(...args, "--journal", place.journal);
const inJson = <T>(...args: readonly string[]): T => JSON.parse(limber(...args, "--json").out) as T;

let first: RunSummary;
beforeAll(() => {
  limber("sweep", ...FAST, "--serial", SERIAL, "--person", "KM", "--set", "pan-drive-slack");
  first = inJson<readonly RunSummary[]>("runs")[0]!;
  limber("found", first.run, "pan-belt-slack", "--person", "JD", "--note", NOTE);
}, 120_000);

test("the history of a fixture has its run and what was found in it", () => {
  const { code, out } = limber("history", SERIAL);
  expect(code).toBe(0);
  expect(out).toContain('History: =A"17, #2');
  expect(out).toContain("SIMULATED");
  expect(out).toContain("two\\nlines, @SUM(1) \\u001b[2J");
});

test("beside what is to be done for a fault stands what may hurt, and whose word comes before ours", () => {
  const { code, out } = limber("faults", first.run);
  expect(code).toBe(0);
  const told = out.replaceAll(/\s+/g, " ");
  expect(told).toContain("to do: ");
  for (const words of [
    "isolate from the mains, lock off, prove dead, let stored charge and heat go",
    "a lamp can burst while it is hot",
    "the maker's manual, local codes and a qualified person come before these words",
  ])
    expect(told).toContain(words);
});

test("the short number of a run that a label bears, and the whole name, are one run to every command", () => {
  const { run } = first;
  const label = limber("label", run).out;
  const [, short = ""] = /^run (\S+)$/m.exec(label) ?? [];
  expect(run).toContain(short);
  for (const name of [run, run.slice(0, 13), short]) expect(limber("sheet", name).out, name).toContain(`run ${run}`);
});

test("a serial number that nobody has is refused with the nearest one", () => {
  expect(limber("history", `${SERIAL}x`)).toMatchObject({ code: 2, err: expect.stringContaining("did you mean") });
});

test("without a serial number nobody is told a history", () => {
  expect(limber("history", "unknown")).toMatchObject({ code: 2, err: expect.stringContaining("serial number") });
});

test("the stock counts real fixtures, and the simulated ones when asked", () => {
  expect(limber("stock").out).toContain("Stock: 0 fixtures");
  expect(limber("stock", "--simulated").out).toContain("pan belt slack or worn - spot-16bit");
  expect(inJson("stock", "--simulated")).toMatchObject({ fixtures: [{ serial: SERIAL }] });
  expect(limber("stock", "--simulated", "--as", "html").out).toContain("<h1>Stock</h1>");
});

test("an export to a file has everything as it was written, as JSON and as a table; no file is overwritten", () => {
  const [json, csv] = [join(place.folder, "all.json"), join(place.folder, "all.csv")];
  expect(limber("export", "--json", "--out", json).code).toBe(0);
  expect(limber("export", "--csv", "--out", csv).code).toBe(0);
  const exported = JSON.parse(readFileSync(json, "utf8")) as { readonly runs: readonly RunSummary[] };
  expect(() => exportFile.parse(exported)).not.toThrow();
  const [run] = exported.runs;
  expect([run?.serial, run?.finds[0]?.note]).toEqual([SERIAL, NOTE]);
  const find = (parse(readFileSync(csv, "utf8")) as string[][]).find((row) => row.includes("find"))!;
  expect([find[0], find.at(-1)]).toEqual([`'${SERIAL}`, NOTE]);
  expect(limber("export", "--json", "--out", json)).toMatchObject({
    code: 3,
    err: expect.stringContaining("there is such a file already"),
  });
});

test.each([
  ["export", "--csv"],
  ["export", "--json"],
  ["runs", "--json"],
  ["history", SERIAL, "--json"],
])("a terminal is given nothing that it would obey: %s %s", async (...args) => {
  const run = inTerminal([program(), ...args, "--journal", place.journal], {
    env: { HOME: place.folder },
  });
  expect(await run.ended).toBe(0);
  if (args[0] !== "runs") expect(run.output()).toContain("\\u001b[2J");
  expect(run.output().replaceAll("\r\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
});

test("an export wants to know in which form", () => {
  for (const forms of [[], ["--csv", "--json"]])
    expect(limber("export", ...forms)).toMatchObject({ code: 2, err: expect.stringContaining("--csv or --json") });
});

test("a rebuild changes no answer and says what it read", () => {
  const before = limber("export", "--json").out;
  expect(limber("rebuild").out).toMatch(/^Rebuilt from \d+ events: 1 run, 1 fixture\.\n$/);
  expect(limber("export", "--json").out).toBe(before);
});

test("a journal that is not there is not made by reading it", () => {
  const file = join(place.folder, "nowhere.db");
  for (const args of [["history", "A"], ["stock"], ["rebuild"], ["backup", `${file}-copy`], ["export", "--csv"]])
    expect(place.limber(...args, "--journal", file)).toMatchObject({
      code: 2,
      err: expect.stringContaining("no journal"),
    });
  expect([existsSync(file), existsSync(`${file}-copy`)]).toEqual([false, false]);
});

/** Read by the built program's own journal: its worker thread is a compiled file. */
const eventsIn = async (file: string): Promise<readonly RunEvent[]> => {
  const store = (await import(join(built(), "io/store/journal.js"))) as typeof import("../../src/io/store/journal.ts");
  const journal = await store.openJournal(file);
  try {
    return await journal.events();
  } finally {
    await journal.close();
  }
};

test("a backup taken in the middle of a run is a journal in which that run goes on to its end", async () => {
  const [file, copy] = [join(place.folder, "busy.db"), join(place.folder, "copy.db")];
  const running = place.starting("sweep", "--watcher", "1", "--sequence", short, "--journal", file);
  await untilJudged(file);
  const backup = place.limber("backup", copy, "--journal", file);
  const stillRunning = running.exitCode === null;
  running.kill("SIGKILL");
  await new Promise((resolve) => running.once("exit", resolve));
  expect({ ...backup, stillRunning }).toMatchObject({ code: 0, err: "", stillRunning: true });
  expect(backup.out).toBe(`Copied: ${copy}, 1 run, opened and read.\n`);

  const copied = await eventsIn(copy);
  expect(await eventsIn(file)).toEqual(expect.arrayContaining([...copied]));
  expect(copied.some(({ body }) => body.kind === "run-closed")).toBe(false);
  const resumed = place.limber("resume", copied[0]!.run, "--watcher", "1", "--fast", "--journal", copy);
  expect(resumed).toMatchObject({ code: 0, out: expect.stringContaining("finished.") });
  expect((await eventsIn(copy)).slice(0, copied.length)).toEqual(copied);
  expect(place.limber("backup", copy, "--journal", file)).toMatchObject({ code: 3 });
}, 120_000);
