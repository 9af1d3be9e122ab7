import { spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { setImmediate as turn } from "node:timers/promises";
import { expect, onTestFinished, test } from "vitest";
import { built } from "../../kit/built.ts";
import { builtStore } from "./built-store.ts";
import { event } from "./event.ts";
import { ownFolder } from "./folder.ts";
import { found } from "./killing.ts";

const { openJournal } = await builtStore();
/** Seconds that no healthy computer needs. */
const LONG = 60;
const SHORT = 0.2;

const opened = async (file: string, patience: number) => {
  const journal = await openJournal(file, patience);
  onTestFinished(() => journal.close());
  return journal;
};

/** Another process takes a lock; the function returned makes it let go. */
const held = async (file: string, sql: string): Promise<() => Promise<void>> => {
  const holder = spawn(process.execPath, ["test/io/store/holder.mjs", file, sql], {
    stdio: ["pipe", "pipe", "inherit"],
  });
  const gone = once(holder, "exit");
  await once(holder.stdout, "data");
  const letGo = async () => {
    holder.stdin.end();
    await gone;
  };
  onTestFinished(letGo);
  return letGo;
};

/** How often the event loop turned until the promise settled. */
const turnsDuring = async (promise: Promise<unknown>): Promise<number> => {
  let turns = 0;
  let over = false;
  const end = () => {
    over = true;
  };
  promise.then(end, end);
  for (; !over; turns++) await turn();
  return turns;
};

test("while another program holds the lock the main thread stays free, and the append is refused in clear words", async () => {
  const file = join(ownFolder(), "journal.db");
  const journal = await opened(file, SHORT);
  await journal.append(event("a"));
  await held(file, "BEGIN IMMEDIATE");
  const refused = journal.append(event("b"));
  // In the main thread SQLite would wait without letting the loop turn even once before the refusal.
  expect(await turnsDuring(refused)).toBeGreaterThan(10);
  await expect(refused).rejects.toMatchObject({
    code: "locked",
    message: expect.stringContaining("in use by another"),
  });
  expect((await journal.events()).map(({ id }) => id)).toEqual(["a"]);
});

test("an append that waits for the lock goes through when the other program lets go", async () => {
  const file = join(ownFolder(), "journal.db");
  const journal = await opened(file, LONG);
  const letGo = await held(file, "BEGIN IMMEDIATE");
  const waiting = Promise.all([journal.append(event("a")), journal.append(event("b"))]);
  await letGo();
  await waiting;
  expect((await journal.events()).map(({ id }) => id)).toEqual(["a", "b"]);
});

test("an append refused for a lock can be sent again", async () => {
  const file = join(ownFolder(), "journal.db");
  const journal = await opened(file, 0);
  const letGo = await held(file, "BEGIN IMMEDIATE");
  await expect(journal.append(event("a"))).rejects.toMatchObject({ code: "locked" });
  await letGo();
  await journal.append(event("a"));
  expect((await journal.events()).map(({ id }) => id)).toEqual(["a"]);
});

test.each([
  { what: "a journal", before: true },
  { what: "an empty file", before: false },
])("$what that another program has for itself cannot be opened: locked", async ({ before }) => {
  const file = join(ownFolder(), "journal.db");
  if (before) await (await openJournal(file)).close();
  const letGo = await held(file, "PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE");
  await expect(openJournal(file, SHORT)).rejects.toMatchObject({ code: "locked" });
  await letGo();
  await (await opened(file, LONG)).append(event("a"));
});

test("two programs that open and fill one journal at the same time lose nothing", async () => {
  const file = join(ownFolder(), "new", "journal.db");
  const template = JSON.stringify(event("numbered"));
  const writers = [0, 1_000_000].map(async (first) => {
    const child = spawn(process.execPath, ["test/io/store/appender.mjs", built(), file, template, `${first}`, "200"], {
      stdio: ["ignore", "pipe", "inherit"],
    });
    const exit = once(child, "exit");
    const said = (await child.stdout.setEncoding("utf8").toArray()).join("").trim().split("\n").slice(2);
    expect(await exit).toEqual([0, null]);
    return said;
  });
  const announced = (await Promise.all(writers)).flat();
  const { verdict, events } = found(file);
  expect(verdict).toBe("ok");
  expect(new Set(announced).size).toBe(400);
  expect(new Set(events.keys())).toEqual(new Set(announced));
});
