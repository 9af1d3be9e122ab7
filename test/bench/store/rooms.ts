import { mkdtempSync, rmSync } from "node:fs";
import { open } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setImmediate as turn } from "node:timers/promises";
import type { openJournal } from "../../../src/io/store/journal.ts";
import { built } from "../../kit/built.ts";

/** The journal as it is shipped: its worker thread needs compiled files. */
export const openBuilt = async (file: string, patience?: number): ReturnType<typeof openJournal> => {
  const store: { readonly openJournal: typeof openJournal } = await import(join(built(), "io/store/journal.js"));
  return store.openJournal(file, patience);
};

/** What a user would otherwise have: a line of JSON for each event, synced to the disk. */
export interface Lines {
  append(value: unknown): Promise<void>;
  close(): Promise<void>;
}

export const openLines = async (file: string): Promise<Lines> => {
  const lines = await open(file, "a");
  return {
    append: async (value) => {
      await lines.appendFile(`${JSON.stringify(value)}\n`);
      await lines.sync();
    },
    close: () => lines.close(),
  };
};

/** Works in a folder of its own on the disk, and clears it away. */
export const inFolder = async <T>(work: (folder: string) => Promise<T>): Promise<T> => {
  const folder = mkdtempSync(join(tmpdir(), "limber-bench-"));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** In ms. */
export const timed = async (work: () => Promise<unknown>): Promise<number> => {
  const start = performance.now();
  await work();
  return performance.now() - start;
};

/** In ms: the longest the main thread stood still, so that no frame could have been sent. */
export const longestStop = async (work: () => Promise<unknown>): Promise<number> => {
  let over = false;
  const end = () => {
    over = true;
  };
  let longest = 0;
  let last = performance.now();
  const done = work().then(end, end);
  while (!over) {
    await turn();
    const now = performance.now();
    longest = Math.max(longest, now - last);
    last = now;
  }
  await done;
  return longest;
};
