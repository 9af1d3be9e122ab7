import { execFileSync } from "node:child_process";
import {
  chmodSync,
  chownSync,
  closeSync,
  mkdirSync,
  openSync,
  readFileSync,
  truncateSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { dirname, join } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";
import { expect, test } from "vitest";
import { EVENT_VERSION } from "../../../src/run/events/event.ts";
import { built } from "../../kit/built.ts";
import { builtStore } from "./built-store.ts";
import { event } from "./event.ts";
import { ownFolder } from "./folder.ts";

const { openJournal } = await builtStore();

/** A closed journal with enough in it to fill several pages. */
const journalFile = async (): Promise<string> => {
  const file = join(ownFolder(), "journal.db");
  const journal = await openJournal(file);
  await Promise.all(Array.from({ length: 100 }, (_, n) => journal.append(event(`${n}`))));
  await journal.close();
  return file;
};
const withSql = (file: string, sql: string): string => {
  const database = new DatabaseSync(file);
  database.exec(sql);
  database.close();
  return file;
};
const overwritten = (file: string, at: number, bytes: string): string => {
  const opened = openSync(file, "r+");
  writeSync(opened, bytes, at);
  closeSync(opened);
  return file;
};

test.each([
  {
    what: "a journal in the tables of a newer program",
    file: async () => withSql(await journalFile(), "PRAGMA user_version = 2"),
    code: "newer-version",
    words: "was written by a newer Limber. Update this one",
  },
  {
    what: "a text file",
    file: async () => {
      const file = join(ownFolder(), "notes.txt");
      writeFileSync(file, "tilt belt ordered\n".repeat(100));
      return file;
    },
    code: "not-a-journal",
    words: "is not a Limber journal",
  },
  {
    what: "the database of another program",
    file: async () => withSql(join(ownFolder(), "stock.db"), "CREATE TABLE parts (name TEXT)"),
    code: "not-a-journal",
    words: "nothing in it was changed",
  },
  {
    what: "a journal with a spoilt page",
    file: async () => overwritten(await journalFile(), 2 * 4096, "spoilt".repeat(500)),
    code: "damaged",
    words: "Make a copy of it before anything else",
  },
  {
    what: "a journal cut short",
    file: async () => {
      const file = await journalFile();
      truncateSync(file, 3 * 4096);
      return file;
    },
    code: "damaged",
    words: "is damaged",
  },
])("$what is refused in clear words and left as it is", async ({ file, code, words }) => {
  const path = await file();
  const before = readFileSync(path);
  const refused = await openJournal(path).catch((error) => error);
  expect(refused).toMatchObject({ name: "JournalError", code });
  expect(refused.message).toContain(path);
  expect(refused.message).toContain(words);
  expect(readFileSync(path).equals(before)).toBe(true);
});

test.each([
  { what: "a folder", path: (folder: string) => folder },
  { what: "a place inside a file", path: (folder: string) => join(folder, "file", "journal.db") },
])("$what is not a journal", async ({ path }) => {
  const folder = ownFolder();
  writeFileSync(join(folder, "file"), "");
  await expect(openJournal(path(folder))).rejects.toMatchObject({ code: "not-a-journal" });
});

test.each([
  { what: "from a newer program", values: `${EVENT_VERSION + 1}, 'new-kind', '{}'`, code: "newer-version" },
  { what: "that is no JSON", values: "1, 'pressed', '{\"id\":'", code: "damaged" },
  {
    what: "of a kind that never was",
    values: `1, 'x', '${JSON.stringify({ ...event("x"), body: { kind: "x" } })}'`,
    code: "damaged",
  },
])("an entry $what is refused in clear words, and the other runs can still be read", async ({ values, code }) => {
  const file = await journalFile();
  withSql(file, `INSERT INTO events (id, run, at, v, kind, event) SELECT 'odd', 'odd run', '', ${values}`);
  const journal = await openJournal(file);
  await expect(journal.events()).rejects.toMatchObject({ code, message: expect.stringContaining(file) });
  await expect(journal.events("odd run")).rejects.toMatchObject({ code });
  expect(await journal.events("run-1")).toHaveLength(100);
  await journal.append(event("on"));
  await journal.close();
});

/** Root may write anywhere: there the visitor becomes the user "nobody". */
const root = process.getuid?.() === 0;
const NOBODY = 65_534;
const visited = (file: string): { readonly at: string; readonly code: string; readonly message: string } => {
  const who = root ? { uid: NOBODY, gid: NOBODY } : {};
  const args = ["test/io/store/visitor.mjs", built(), file, JSON.stringify(event("visitor"))];
  return JSON.parse(execFileSync(process.execPath, args, { encoding: "utf8", ...who }));
};
const give = (path: string, mode: number) => {
  if (root) chownSync(path, NOBODY, NOBODY);
  chmodSync(path, mode);
};

test.each([
  { what: "file that may be read and not written", folder: 0o700, file: 0o400, code: "read-only" },
  { what: "folder that may be read and not written", folder: 0o500, file: 0o600, code: "read-only" },
  { what: "file that may not even be read", folder: 0o700, file: 0o000, code: "no-permission" },
  { what: "folder that may not be entered", folder: 0o000, file: 0o600, code: "no-permission" },
  { what: "file and folder of one's own", folder: 0o700, file: 0o600, code: "none" },
])("a $what: $code", async ({ folder, file, code }) => {
  const path = await journalFile();
  const before = readFileSync(path);
  give(path, file);
  give(dirname(path), folder);
  const outcome = visited(path);
  give(dirname(path), 0o700);
  give(path, 0o600);
  if (code === "none") return expect(outcome).toEqual({ at: "the end", code, message: "" });
  expect(outcome).toEqual({ at: "opening", code, message: expect.stringContaining(path) });
  expect(readFileSync(path).equals(before)).toBe(true);
});

test("a new journal in a folder that may not be written: no permission", () => {
  const folder = join(ownFolder(), "shut");
  mkdirSync(folder);
  give(dirname(folder), 0o700);
  give(folder, 0o500);
  expect(visited(join(folder, "journal.db"))).toMatchObject({ code: "no-permission" });
  give(folder, 0o700);
});
