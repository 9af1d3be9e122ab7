import { readFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";
import fc from "fast-check";
import { expect, test } from "vitest";
import { FOLD } from "../../../src/io/store/fold.ts";
import { toRow } from "../../../src/io/store/row.ts";
import { type JournalTable, openTable } from "../../../src/io/store/table.ts";
import { digestsOf, readingProfiles } from "../../../src/run/events/digest.ts";
import type { RunEvent } from "../../../src/run/events/event.ts";
import { standingIn } from "../../../src/run/release/release-status.ts";
import { eventsOf } from "../../run/memory/happened.ts";
import { event } from "./event.ts";
import { ownFolder } from "./folder.ts";
import { lives } from "./lives.ts";

const newFile = () => join(ownFolder(), "journal.db");
const write = (table: JournalTable, events: readonly RunEvent[]) => table.insert(events.map(toRow));
const level = (table: JournalTable, most = 1000): void => {
  while (table.derived.catchUp(most).left > 0);
  while (table.derived.standings({ kind: "all" }, 0, 1)?.kind !== "all");
};
/** Everything that is derived, as SQLite itself reads it. */
const tablesIn = (file: string) => {
  const database = new DatabaseSync(file);
  const rows = (sql: string) =>
    database
      .prepare(sql)
      .all()
      .map((row) => ({ ...row }));
  const all = {
    fold: rows("SELECT version, upto FROM fold"),
    runs: rows("SELECT * FROM runs ORDER BY begun"),
    fixtures: rows("SELECT fixture, standing FROM fixtures ORDER BY fixture"),
  };
  database.close();
  return all;
};

test("caught up piece by piece or folded anew, the tables are the same, and are what the plain fold says", () => {
  const pieces = fc.array(fc.nat(8), { maxLength: 12 });
  fc.assert(
    fc.property(lives, pieces, fc.integer({ min: 1, max: 9 }), (events, sizes, most) => {
      const file = newFile();
      const table = openTable(file, 1);
      let rest = events;
      for (const size of sizes) {
        write(table, rest.slice(0, size));
        rest = rest.slice(size);
        table.derived.catchUp(most);
      }
      write(table, rest);
      level(table, most);
      const caughtUp = tablesIn(file);

      const digests = digestsOf(events, readingProfiles());
      expect(caughtUp.runs.map(({ brief }) => JSON.parse(String(brief)))).toEqual(
        plain(digests.map(({ brief }) => brief)),
      );
      expect(caughtUp.runs.map(({ lesson }) => lesson !== null)).toEqual(
        digests.map(({ lesson }) => lesson !== undefined),
      );
      expect(caughtUp.fixtures).toEqual(
        ["A-1", "A-2"]
          .filter((serial) => digests.some(({ brief }) => brief.serial === serial))
          .map((serial) => ({
            fixture: serial.toLowerCase(),
            standing: JSON.stringify(standingIn(events, serial, readingProfiles())),
          })),
      );

      table.derived.forget();
      level(table);
      table.close();
      expect(tablesIn(file)).toEqual(caughtUp);
    }),
    { numRuns: 60 },
  );
});
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

test("where a fixture stands is reckoned anew for those whose runs have new events, a few at a time", () => {
  const table = openTable(newFile(), 1);
  write(
    table,
    ["A-1", "A-2", "A-3"].flatMap((serial) => eventsOf({ run: serial, serial })),
  );
  table.derived.catchUp(1000);
  expect([1, 1, 1].map((most) => table.derived.standings({ kind: "all" }, 0, most))).toMatchObject([
    { kind: "more", left: 2 },
    { kind: "more", left: 1 },
    { kind: "all", rows: { length: 3 } },
  ]);
  write(table, eventsOf({ run: "again", serial: "A-2" }));
  table.derived.catchUp(1000);
  const of = (serial: string, most: number) => table.derived.standings({ kind: "fixture", serial }, 0, most);
  expect(of("A-1", 0)).toMatchObject({ kind: "all", rows: { length: 1 } });
  expect(of("A-2", 0)).toEqual({ kind: "more", left: 1 });
  expect(of("A-2", 1)).toMatchObject({ kind: "all", rows: { length: 1 } });
  expect(of("unheard of", 1)).toEqual({ kind: "all", rows: [] });
  table.close();
});

test("an append leaves the tables alone; the next question takes it in", () => {
  const table = openTable(newFile(), 1);
  level(table);
  write(table, eventsOf({ run: "late" }));
  expect(table.derived.briefs({ kind: "all" }, 0)).toEqual([]);
  level(table);
  expect(table.derived.briefs({ kind: "all" }, 0)).toHaveLength(1);
  table.close();
});

test("a run that never began is in no table", () => {
  const table = openTable(newFile(), 1);
  write(table, [event("stray")]);
  level(table);
  expect(table.derived.briefs({ kind: "all" }, 1)).toEqual([]);
  table.close();
});

test.each([
  { what: "tables of another fold", sql: "UPDATE fold SET version = 'other'; UPDATE runs SET brief = '{}'" },
  { what: "a journal from before there were tables", sql: "DROP TABLE fold; DROP TABLE runs; DROP TABLE fixtures" },
  { what: "half of the tables", sql: "DROP TABLE fold" },
])("$what: they are folded anew", ({ sql }) => {
  const file = newFile();
  const table = openTable(file, 1);
  write(table, eventsOf({ run: "one" }));
  level(table);
  const before = tablesIn(file);
  const other = new DatabaseSync(file);
  other.exec(sql);
  other.close();
  level(table);
  table.close();
  expect(tablesIn(file)).toEqual(before);
});

test("a new release folds every journal anew by itself", () => {
  const { version } = JSON.parse(readFileSync("package.json", "utf8")) as { readonly version: string };
  expect(FOLD.split(" / ")[0]).toBe(version);
});

test("nothing is read from tables that another program has thrown away in between", () => {
  const file = newFile();
  const [reader, other] = [openTable(file, 1), openTable(file, 1)];
  write(reader, eventsOf({ run: "one" }));
  level(reader);
  const { upto } = reader.derived.catchUp(1);
  other.derived.forget();
  expect(reader.derived.briefs({ kind: "all" }, upto)).toBeUndefined();
  expect(reader.derived.teaching(upto)).toBeUndefined();
  expect(reader.derived.standings({ kind: "all" }, upto, 1)).toBeUndefined();
  reader.close();
  other.close();
});
