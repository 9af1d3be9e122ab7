import { readdirSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";
import fc from "fast-check";
import { describe, expect, onTestFinished, test } from "vitest";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { EVENT_VERSION } from "../../../src/run/events/event.ts";
import type { Journal } from "../../../src/run/ports.ts";
import { builtStore } from "./built-store.ts";
import { event } from "./event.ts";
import { ownFolder } from "./folder.ts";

const { openJournal } = await builtStore();

const opened = async (file = join(ownFolder(), "journal.db")) => {
  const journal = await openJournal(file);
  onTestFinished(() => journal.close());
  return journal;
};
const ids = async (journal: Journal, run?: string) => (await journal.events(run)).map(({ id }) => id);

describe.each([
  { name: "on disk", open: opened },
  { name: "in memory", open: async () => memoryJournal() },
])("a journal $name", ({ open }) => {
  test("gives back what was written, in the order of writing, of one run or all", async () => {
    const journal = await open();
    const events = [event("c", { run: "one" }), event("a", { run: "two" }), event("b", { run: "one" })];
    await Promise.all(events.map((each) => journal.append(each)));
    expect(await journal.events()).toEqual(events);
    expect(await ids(journal, "one")).toEqual(["c", "b"]);
    expect(await ids(journal, "three")).toEqual([]);
  });

  test("keeps every text that has no NUL", async () => {
    const journal = await open();
    const texts = fc.uniqueArray(fc.string({ unit: "binary" }).filter((text) => !text.includes("\0")));
    await fc.assert(
      fc.asyncProperty(texts, fc.uuid(), async (notes, run) => {
        const events = notes.map((note) =>
          event(`${run} ${note}`, { run, person: note, body: { kind: "hold-confirmed", point: note } }),
        );
        await Promise.all(events.map((each) => journal.append(each)));
        expect(await journal.events(run)).toEqual(events);
      }),
    );
  });

  test.each([
    { where: "id", bad: event("a\0b") },
    { where: "run", bad: event("a", { run: "r\0" }) },
    { where: "body.point", bad: event("a", { body: { kind: "hold-confirmed", point: "\0" } }) },
    { where: "v", bad: event("a", { v: 0 }) },
    { where: "version", bad: event("a", { v: EVENT_VERSION + 1 }) },
  ])("refuses an event it could not give back ($where)", async ({ where, bad }) => {
    const journal = await open();
    await expect(journal.append(bad)).rejects.toThrow(new RegExp(`Bug: this event cannot be stored.*${where}`, "s"));
    expect(await journal.events()).toEqual([]);
  });

  test("takes an event sent twice once, and refuses another under its id", async () => {
    const journal = await open();
    await journal.append(event("a"));
    await journal.append(event("a"));
    await expect(journal.append(event("a", { person: "CD" }))).rejects.toThrow("Bug: another event has the id a");
    await journal.append(event("b"));
    expect(await ids(journal)).toEqual(["a", "b"]);
  });
});

test("more events than fit a page come back whole and in order", async () => {
  const journal = await opened();
  const events = Array.from({ length: 1001 }, (_, n) => event(`${n}`, { run: n % 10 ? "one" : "two" }));
  await Promise.all(events.map((each) => journal.append(each)));
  expect(await journal.events()).toEqual(events);
  expect(await journal.events("two")).toEqual(events.filter(({ run }) => run === "two"));
});

test("what was handed over before closing is on disk after it, and nothing can be added then", async () => {
  const file = join(ownFolder(), "journal.db");
  const journal = await openJournal(file);
  const handed = Array.from({ length: 50 }, (_, n) => journal.append(event(`${n}`)));
  await Promise.all([journal.close(), journal.close()]);
  await Promise.all(handed);
  expect(readdirSync(dirname(file)), "no write-ahead log is left over").toEqual(["journal.db", "journal.db-head"]);
  await expect(journal.append(event("late"))).rejects.toThrow("Bug: the journal is closed");
  expect(await ids(await opened(file))).toHaveLength(50);
});

test("folder and files are for this user only", async () => {
  const folder = join(ownFolder(), "new", "deep");
  const journal = await opened(join(folder, "journal.db"));
  await journal.append(event("a"));
  const modes = ["..", ".", "journal.db", "journal.db-wal", "journal.db-shm", "journal.db-head"].map(
    (name) => statSync(join(folder, name)).mode & 0o777,
  );
  expect(modes).toEqual([0o700, 0o700, 0o600, 0o600, 0o600, 0o600]);
});

test("the database itself refuses to change or drop an event", async () => {
  const file = join(ownFolder(), "journal.db");
  await (await opened(file)).append(event("a"));
  const database = new DatabaseSync(file);
  onTestFinished(() => database.close());
  expect(() => database.exec("DELETE FROM events")).toThrow("append-only");
  expect(() => database.exec("UPDATE events SET run = 'x'")).toThrow("append-only");
});

test("a burst is written in a few transactions, each event told only after its own", async () => {
  const file = join(ownFolder(), "journal.db");
  const journal = await opened(file);
  const watcher = new DatabaseSync(file);
  onTestFinished(() => watcher.close());
  const there = watcher.prepare("SELECT 1 FROM events WHERE id = ?");
  const size = statSync(`${file}-wal`).size;
  const told = Array.from({ length: 200 }, async (_, n) => {
    await journal.append(event(`${n}`));
    return there.get(`${n}`) !== undefined;
  });
  expect(new Set(await Promise.all(told))).toEqual(new Set([true]));
  // One transaction writes at least the table's page, the two indexes' pages: 3 x 4 KiB. 200 would need 2.4 MB.
  expect(statSync(`${file}-wal`).size - size).toBeLessThan(200 * 3 * 4096 * 0.5);
});

test("a backup taken while the journal is in use is a journal with everything in it, for this user only", async () => {
  const folder = ownFolder();
  const journal = await opened(join(folder, "journal.db"));
  await journal.append(event("a"));
  const copy = join(folder, "elsewhere", "copy.db");
  await journal.backup(copy);
  expect(statSync(copy).mode & 0o777).toBe(0o600);
  expect(await ids(await opened(copy))).toEqual(["a"]);
  await journal.append(event("b"));
  await expect(journal.backup(copy)).rejects.toMatchObject({ code: "exists", message: expect.stringContaining(copy) });
  expect(await ids(journal)).toEqual(["a", "b"]);
});
