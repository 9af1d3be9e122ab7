import { copyFileSync, mkdirSync, readFileSync, statSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, onTestFinished, test } from "vitest";
import { fromRow, toRow } from "../../../src/io/store/row.ts";
import { openTable } from "../../../src/io/store/table.ts";
import { digestsOf, readingProfiles } from "../../../src/run/events/digest.ts";
import { eventsOf } from "../../run/memory/happened.ts";
import { event } from "./event.ts";
import { ownFolder } from "./folder.ts";

/** Ten short runs, event by event. */
const EVENTS = Array.from({ length: 10 }, (_, n) =>
  eventsOf({ run: `run-${n}`, steps: [{ of: "Pan", result: "pass" }] }),
).flat();
/** Every so many events somebody asks for the runs in brief: the derived tables are written in between. */
const ASKED_EVERY = 7;

/** A journal as a killed process leaves it: everything still in the write-ahead log. `ends` is the log's length after each event. */
const left = () => {
  const folder = ownFolder();
  const file = join(folder, "journal.db");
  const table = openTable(file, 1);
  const ends = EVENTS.map((each, n) => {
    table.insert([toRow(each)]);
    const { size } = statSync(`${file}-wal`);
    if (n % ASKED_EVERY === 0) table.derived.catchUp(1000);
    return size;
  });
  const length = statSync(`${file}-wal`).size;
  let copies = 0;
  const copy = () => {
    const to = join(folder, `${copies++}`);
    mkdirSync(to);
    for (const name of ["journal.db", "journal.db-wal"]) copyFileSync(join(folder, name), join(to, name));
    return join(to, "journal.db");
  };
  onTestFinished(() => table.close());
  return { ends, length, copy };
};

/** The events that are there; what is derived from them is told from exactly these. */
const idsIn = (file: string): readonly string[] => {
  const table = openTable(file, 1);
  const events = table.page({ kind: "all" }, undefined, 1000).map((row) => fromRow(row, file));
  const { upto } = table.derived.catchUp(1000);
  expect(table.derived.briefs({ kind: "all" }, upto)).toEqual(
    digestsOf(events, readingProfiles()).map(({ brief }) => JSON.stringify(brief)),
  );
  table.insert([toRow(event("after"))]);
  expect(table.page({ kind: "all" }, undefined, 1000)).toHaveLength(events.length + 1);
  table.close();
  return events.map(({ id }) => id);
};

test("wherever the write-ahead log is cut, exactly the events that were wholly in it are there", () => {
  const { ends, length: whole, copy } = left();
  const edges = ends.flatMap((end) => [end - 1, end, end + 1]);
  const cuts = fc.oneof(fc.constantFrom(...edges), fc.nat(whole));
  fc.assert(
    fc.property(cuts, (length) => {
      const file = copy();
      truncateSync(`${file}-wal`, Math.min(length, whole));
      expect(idsIn(file)).toEqual(ends.flatMap((end, n) => (end <= length ? [EVENTS[n]!.id] : [])));
    }),
    { numRuns: 110 },
  );
});

test("wherever a byte of the write-ahead log is wrong, the events before it are there", () => {
  const { ends, copy } = left();
  fc.assert(
    fc.property(fc.nat(ends.at(-1)! - 1), fc.integer({ min: 1, max: 255 }), (at, flip) => {
      const file = copy();
      const log = readFileSync(`${file}-wal`);
      log[at] = log[at]! ^ flip;
      writeFileSync(`${file}-wal`, log);
      const before = ends.flatMap((end, n) => (end <= at ? [EVENTS[n]!.id] : []));
      expect(idsIn(file).slice(0, before.length)).toEqual(before);
    }),
  );
});
