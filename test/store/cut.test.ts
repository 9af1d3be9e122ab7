import { copyFileSync, mkdirSync, readFileSync, statSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, onTestFinished, test } from "vitest";
import { toRow } from "../../src/store/row.ts";
import { openTable } from "../../src/store/table.ts";
import { event } from "./event.ts";
import { ownFolder } from "./folder.ts";

const EVENTS = 40;

/** A journal as a killed process leaves it: everything still in the write-ahead log. `ends` is the log's length after each event. */
const left = () => {
  const folder = ownFolder();
  const file = join(folder, "journal.db");
  const table = openTable(file, 1);
  const ends = Array.from({ length: EVENTS }, (_, n) => {
    table.insert([toRow(event(`${n}`))]);
    return statSync(`${file}-wal`).size;
  });
  let copies = 0;
  const copy = () => {
    const to = join(folder, `${copies++}`);
    mkdirSync(to);
    for (const name of ["journal.db", "journal.db-wal"]) copyFileSync(join(folder, name), join(to, name));
    return join(to, "journal.db");
  };
  onTestFinished(() => table.close());
  return { ends, copy };
};

const idsIn = (file: string): readonly string[] => {
  const table = openTable(file, 1);
  const ids = table.page(undefined, 0, 1000).map((row) => JSON.parse(row.event).id);
  table.insert([toRow(event("after"))]);
  expect(table.page(undefined, 0, 1000)).toHaveLength(ids.length + 1);
  table.close();
  return ids;
};

test("wherever the write-ahead log is cut, exactly the events that were wholly in it are there", () => {
  const { ends, copy } = left();
  const edges = ends.flatMap((end) => [end - 1, end, end + 1]);
  const cuts = fc.oneof(fc.constantFrom(...edges), fc.nat(ends.at(-1)!));
  fc.assert(
    fc.property(cuts, (length) => {
      const file = copy();
      truncateSync(`${file}-wal`, Math.min(length, ends.at(-1)!));
      expect(idsIn(file)).toEqual(ends.flatMap((end, n) => (end <= length ? [`${n}`] : [])));
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
      const before = ends.flatMap((end, n) => (end <= at ? [`${n}`] : []));
      expect(idsIn(file).slice(0, before.length)).toEqual(before);
    }),
  );
});
