import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";
import { expect, onTestFinished, test } from "vitest";
import { TRIGGERS } from "../../../src/io/store/database.ts";
import type { FileJournal } from "../../../src/io/store/journal.ts";
import { proofOf } from "../../../src/io/store/row.ts";
import { printedHead, readHead } from "../../../src/run/events/chain.ts";
import { findingInWords } from "../../../src/run/events/journal-finding.ts";
import { eventsOf } from "../../run/memory/happened.ts";
import { builtStore } from "./built-store.ts";
import { ownFolder } from "./folder.ts";

const { openJournal } = await builtStore();
const opened = async (file: string): Promise<FileJournal> => {
  const journal = await openJournal(file);
  onTestFinished(() => journal.close());
  return journal;
};

const LIFE = [
  { run: "run-1", serial: "A-1", steps: [{ of: "Pan", result: "pass" }] as const },
  { run: "run-2", serial: "A-2", steps: [{ of: "Pan", result: "fail" }] as const },
].flatMap(eventsOf);

/** Ten events of two runs, with everything that is kept ready of them. */
const journalFile = async (): Promise<string> => {
  const file = join(ownFolder(), "journal.db");
  const journal = await openJournal(file);
  for (const event of LIFE) await journal.append(event);
  await journal.standings({ kind: "all" });
  await journal.close();
  return file;
};

/** As somebody with the right tool does it: the triggers are put back afterwards. */
const edit = (file: string, sql: string): void => {
  const database = new DatabaseSync(file);
  database.exec(`DROP TRIGGER events_stay; DROP TRIGGER events_keep; ${sql}; ${TRIGGERS}`);
  database.close();
};

const foundIn = async (file: string): Promise<readonly string[]> => {
  const journal = await opened(file);
  return (await journal.check({ kind: "all" }, () => {})).findings.map((one) =>
    findingInWords(one).replaceAll(/bench [0-9a-f]{12}/g, "bench B"),
  );
};

test("a journal that nobody touched holds together, and an append goes on in the same chain", async () => {
  const file = await journalFile();
  expect(await foundIn(file)).toEqual([]);
  const journal = await opened(file);
  const before = await journal.head();
  await journal.append(eventsOf({ run: "run-3" })[0]!);
  expect(await journal.head()).toMatchObject({ origin: before?.origin, number: LIFE.length + 1 });
  expect(await journal.check({ kind: "all" }, () => {})).toMatchObject({ events: LIFE.length + 1, findings: [] });
});

test.each([
  {
    what: "what was found is changed",
    sql: `UPDATE events SET event = replace(event, '"result":"fail"', '"result":"pass"')`,
    words: ["event 7 of bench B (run run-2, 2026-11-02 09:02) is not as it was written"],
  },
  {
    what: "an event is filed under another run",
    sql: "UPDATE events SET run = 'run-1' WHERE number = 7",
    words: ["event 7 of bench B (run run-1, 2026-11-02 09:02) is not as it was written"],
  },
  {
    what: "an event is taken out",
    sql: "DELETE FROM events WHERE number = 3",
    words: [
      "event 3 of bench B is missing",
      'the derived table of run run-1 does not follow from its events ("limber rebuild" makes it again)',
      'the derived table of fixture a-1 does not follow from its events ("limber rebuild" makes it again)',
    ],
  },
  {
    what: "an event is put in at the end, with the hashes of the one before it",
    sql: `INSERT INTO events SELECT NULL, 'put-in', run, at, v, kind, replace(event, id, 'put-in'), origin, 9, time + 1, counter, before, hash
      FROM events WHERE number = 8`,
    words: expect.arrayContaining([
      expect.stringContaining("event 9 of bench B (run run-2, 2026-11-02 09:03) does not follow the event before it"),
    ]),
  },
  {
    what: "an event is taken out and the numbers are closed up",
    sql: "DELETE FROM events WHERE number = 7; UPDATE events SET number = 7 WHERE number = 8",
    words: [
      "event 7 of bench B (run run-2, 2026-11-02 09:03) does not follow the event before it: one was taken out or put in",
      "event 7 of bench B (run run-2, 2026-11-02 09:03) is not as it was written",
      expect.stringContaining("bench B had events up to number 8, here it ends at 7"),
    ],
  },
])("$what: it shows", async ({ sql, words }) => {
  const file = await journalFile();
  edit(file, sql);
  expect(await foundIn(file)).toEqual(words);
});

test("a trigger that is taken away shows, and so does one that a stranger put in", async () => {
  const file = await journalFile();
  const database = new DatabaseSync(file);
  database.exec(
    "DROP TRIGGER events_keep; CREATE TRIGGER quiet BEFORE INSERT ON events BEGIN SELECT RAISE(IGNORE); END;",
  );
  database.close();
  expect(await foundIn(file)).toEqual([
    "the trigger events_keep of the database is missing or not as it was made",
    "the trigger quiet of the database is missing or not as it was made",
  ]);
});

test("the derived table of a run and does not follow from its events shows, also with a checksum that fits", async () => {
  const file = await journalFile();
  const database = new DatabaseSync(file);
  const { proof, ...row } = database.prepare("SELECT * FROM runs WHERE run = 'run-2'").get()!;
  const cells = { ...row, brief: String(row["brief"]).replace('"result":"fail"', '"result":"pass"') };
  database
    .prepare("UPDATE runs SET brief = ?, proof = ? WHERE run = 'run-2'")
    .run(cells.brief, proofOf(...(Object.values(cells) as string[])));
  database.close();
  expect(proof).not.toBe(proofOf(...(Object.values(cells) as string[])));
  expect(await foundIn(file)).toEqual([expect.stringContaining("the derived table of run run-2 does not follow")]);
  const journal = await opened(file);
  expect((await journal.check({ kind: "fixture", serial: "A-2" }, () => {})).findings).toHaveLength(1);
  expect((await journal.check({ kind: "fixture", serial: "A-1" }, () => {})).findings).toEqual([]);
});

test("a fixture that was never seen before holds together: its first check-in can be signed", async () => {
  const journal = await opened(await journalFile());
  expect((await journal.check({ kind: "fixture", serial: "NEW-1" }, () => {})).findings).toEqual([]);
});

test("an older copy put back shows by itself where the newer one was, and anywhere by what is printed", async () => {
  const file = await journalFile();
  const old = join(dirname(file), "old", "journal.db");
  mkdirSync(dirname(old));
  copyFileSync(file, old);
  const journal = await openJournal(file);
  await journal.append(eventsOf({ run: "run-3" })[0]!);
  const printed = printedHead((await journal.head())!);
  expect(await journal.has(readHead(printed)!)).toBe(true);
  await journal.close();

  expect(await foundIn(old)).toEqual([]);
  expect(await (await opened(old)).has(readHead(printed)!)).toBe(false);

  copyFileSync(old, file);
  expect(await foundIn(file)).toEqual([
    "bench B had events up to number 9, here it ends at 8: an older copy was put back, or the end is lost",
  ]);
});

test("after an older copy was put back no number is used twice, and what a person accepts is told and stands in the way no more", async () => {
  const file = await journalFile();
  const old = readFileSync(file);
  const journal = await openJournal(file);
  const first = await journal.head();
  await journal.append(eventsOf({ run: "run-3" })[0]!);
  await journal.close();
  writeFileSync(file, old);

  const again = await opened(file);
  await again.append(eventsOf({ run: "run-4" })[0]!);
  expect(await again.head()).toMatchObject({ number: 1, origin: expect.not.stringMatching(first!.origin) });
  const [ended] = (await again.check({ kind: "all" }, () => {})).findings;
  await again.accept({ key: `ended ${first!.origin} 9`, words: "the disk broke" });
  expect(ended).toMatchObject({ kind: "ended", here: 8 });
  expect(await again.check({ kind: "all" }, () => {})).toMatchObject({
    findings: [],
    accepted: [{ words: "the disk broke" }],
  });
});

test("a journal that was removed is begun anew; one that was emptied is damaged", async () => {
  const file = await journalFile();
  rmSync(file);
  expect(await foundIn(file)).toEqual([]);
  const other = await journalFile();
  writeFileSync(other, "");
  await expect(openJournal(other)).rejects.toMatchObject({ code: "damaged" });
});

/** The tables of the first format, as they were made then. */
const FIRST_FORMAT = `
  CREATE TABLE events (serial INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, run TEXT NOT NULL, at TEXT NOT NULL,
    v INTEGER NOT NULL, kind TEXT NOT NULL, event TEXT NOT NULL) STRICT;
  CREATE INDEX events_of_run ON events (run);
  CREATE TRIGGER events_stay BEFORE DELETE ON events BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  CREATE TRIGGER events_keep BEFORE UPDATE ON events BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  CREATE TABLE fold (version TEXT NOT NULL, upto INTEGER NOT NULL) STRICT;
  PRAGMA application_id = 0x4c4d4252; PRAGMA user_version = 1;
`;

/** Written in this order, dated backwards: the clock was set back in between. */
const oldJournal = (more = ""): string => {
  const file = join(ownFolder(), "journal.db");
  const database = new DatabaseSync(file);
  database.exec(`PRAGMA journal_mode = WAL; ${FIRST_FORMAT} ${more}`);
  const put = database.prepare("INSERT INTO events (id, run, at, v, kind, event) VALUES (?, ?, ?, ?, ?, ?)");
  for (const event of LIFE.toReversed())
    put.run(event.id, event.run, event.at, event.v, event.body.kind, JSON.stringify(event));
  database.close();
  return file;
};

/**
 * All that a database holds. Not its bytes: a connection closed while a statement still waits for the garbage collector
 * stays half open, and what it wrote moves from the log beside the file into the file when that goes.
 */
const contentOf = (file: string) => {
  const database = new DatabaseSync(file);
  const content = ["PRAGMA user_version", "SELECT name, sql FROM sqlite_schema", "SELECT * FROM events"].map((query) =>
    database.prepare(query).all(),
  );
  database.close();
  return content;
};

test("a journal of the first format gets its chain when it is opened, every event as it was and in its order", async () => {
  const file = oldJournal();
  const journal = await opened(file);
  expect(await journal.events()).toEqual(LIFE.toReversed());
  expect(await journal.head()).toMatchObject({ number: LIFE.length });
  expect(await journal.check({ kind: "all" }, () => {})).toMatchObject({ events: LIFE.length, findings: [] });
  await journal.append(eventsOf({ run: "later" })[0]!);
  expect((await journal.events()).at(-1)?.run).toBe("later");
  await journal.close();
  expect(await foundIn(file)).toEqual([]);
});

test("a journal of the first format in which an event is damaged is left as it is, and the event is named", async () => {
  const file = oldJournal();
  const database = new DatabaseSync(file);
  database.exec("DROP TRIGGER events_keep; UPDATE events SET event = substr(event, 2) WHERE serial = 2");
  database.close();
  const before = contentOf(file);
  await expect(openJournal(file)).rejects.toMatchObject({
    code: "damaged",
    message: expect.stringContaining("event 2, of 2026-11-02 in run run-2"),
  });
  expect(contentOf(file)).toEqual(before);
});
