import { expect, test } from "vitest";
import { startThread } from "../../../src/io/store/thread.ts";

const worker = (code: string) => startThread(new URL(`data:text/javascript,${encodeURIComponent(code)}`), "j.db");
const died = { name: "JournalError", code: "worker-died", message: expect.stringContaining("Start Limber again") };
const ON_MESSAGE = `import { parentPort } from "node:worker_threads"; parentPort.once("message",`;

test.each([
  { what: "cannot start", code: "this is no JavaScript" },
  { what: "throws", code: `${ON_MESSAGE} () => { throw new Error("no memory") })` },
  { what: "ends", code: `${ON_MESSAGE} () => process.exit(0))` },
])("when the worker $what, all that waits and all that comes after is told so", async ({ code }) => {
  const thread = worker(code);
  const asked = [1, 2].map(() => thread.ask({ kind: "insert", rows: [] }));
  for (const each of asked) await expect(each).rejects.toMatchObject(died);
  await expect(thread.ask({ kind: "close" })).rejects.toMatchObject(died);
  await thread.stop();
});

test("a bug in the worker arrives as a bug and not as trouble of the world", async () => {
  const thread = worker(
    `${ON_MESSAGE} ({ number }) => parentPort.postMessage({ number, kind: "bug", message: "Bug: x" }))`,
  );
  await expect(thread.ask({ kind: "insert", rows: [] })).rejects.toThrow(/^Bug: x$/);
  await thread.stop();
});
