import { copyFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { rescueJournal } from "../../../src/io/store/rescue.ts";
import { toRow } from "../../../src/io/store/row.ts";
import { openTable } from "../../../src/io/store/table.ts";
import { event } from "./event.ts";
import { ownFolder } from "./folder.ts";

/** What somebody has who copies the file alone, without what lies beside it. */
const aloneIn = (file: string): readonly string[] => {
  const copy = join(ownFolder(), "copy.db");
  copyFileSync(file, copy);
  const table = openTable(copy, 1);
  const rows = table.page({ kind: "all" }, undefined, 100);
  table.close();
  return rows.map(({ id }) => id);
};

// A connection stays half open as long as one of its statements lives, and only the garbage collector ends those.
test("a closed journal is whole in its one file, also while its questions still live", () => {
  const file = join(ownFolder(), "journal.db");
  const table = openTable(file, 1);
  table.insert([toRow(event("a")), toRow(event("b"))]);
  table.close();
  expect(aloneIn(file)).toEqual(["a", "b"]);
  expect(table).toBeDefined();
});

test("a rescued journal is whole in its one file", () => {
  const folder = ownFolder();
  const file = join(folder, "journal.db");
  const table = openTable(file, 1);
  table.insert([toRow(event("a")), toRow(event("b")), toRow(event("c"))]);
  table.close();
  const out = join(folder, "rescued.db");
  expect(rescueJournal(file, out, "2026-11-28").events).toBe(3);
  expect(aloneIn(out)).toEqual(["a", "b", "c"]);
});
