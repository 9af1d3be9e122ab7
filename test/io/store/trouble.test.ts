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
import { PUT_EVENT } from "../../../src/io/store/row.ts";
import { canonical, hashOf } from "../../../src/run/events/chain.ts";
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
    file: async () => withSql(await journalFile(), "PRAGMA user_version = 3"),
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

/** An event that hangs in the chain as it should, whatever it says. */
const chained = (file: string, v: number, kind: string, text: string): string => {
  const database = new DatabaseSync(file);
  const last = database.prepare("SELECT *, lower(hex(hash)) AS digits FROM events ORDER BY number DESC LIMIT 1").get()!;
  const { origin, time } = last as { readonly origin: string; readonly time: number };
  const link = {
    origin,
    number: Number(last["number"]) + 1,
    time: time + 1,
    counter: 0,
    before: String(last["digits"]),
  };
  database
    .prepare(PUT_EVENT)
    .run(
      "odd",
      "odd run",
      "2026-11-25",
      v,
      kind,
      text,
      origin,
      link.number,
      link.time,
      0,
      link.before,
      hashOf(link, text),
    );
  database.close();
  return file;
};
const odd = (v: number, body: object) => canonical({ ...event("odd", { run: "odd run", at: "2026-11-25" }), v, body });

test.each([
  {
    what: "from a newer program",
    v: EVENT_VERSION + 1,
    kind: "new-kind",
    text: odd(EVENT_VERSION + 1, { kind: "new-kind" }),
    code: "newer-version",
    words: "was written by a newer Limber",
  },
  {
    what: "that is no JSON",
    v: 1,
    kind: "pressed",
    text: '{"id":',
    code: "damaged",
    words: "event 101, of 2026-11-25",
  },
  {
    what: "of a kind that never was",
    v: 1,
    kind: "x",
    text: odd(1, { kind: "x" }),
    code: "damaged",
    words: "in run odd run",
  },
])(
  "an entry $what is refused in clear words, and the other runs can still be read",
  async ({ v, kind, text, code, words }) => {
    const file = chained(await journalFile(), v, kind, text);
    const journal = await openJournal(file);
    await expect(journal.events()).rejects.toMatchObject({ code, message: expect.stringContaining(file) });
    await expect(journal.events("odd run")).rejects.toMatchObject({ code, message: expect.stringContaining(words) });
    expect(await journal.events("run-1")).toHaveLength(100);
    await journal.append(event("on"));
    await journal.close();
  },
);

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
