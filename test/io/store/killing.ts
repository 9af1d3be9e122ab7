import { spawn } from "node:child_process";
import { once } from "node:events";
import { copyFileSync, existsSync, mkdtempSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import { createInterface } from "node:readline";
import { setImmediate as turn } from "node:timers/promises";
import { DatabaseSync } from "@photostructure/sqlite";
import { canonical } from "../../../src/run/events/chain.ts";
import { event } from "./event.ts";

/** When to kill: at that line of the child ("opening", "open", then one for each event announced), and so many turns of the event loop later. */
export interface Instant {
  readonly line: number;
  readonly turns: number;
}

/** What a killed child had said: the events announced as stored. Rejects when it ended by itself. */
export const killedAt = async (
  dist: string,
  file: string,
  first: number,
  instant: Instant,
): Promise<readonly string[]> => {
  const template = JSON.stringify(event("numbered"));
  const child = spawn(process.execPath, ["test/io/store/appender.mjs", dist, file, template, `${first}`], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  const closed = once(child, "close");
  const said: string[] = [];
  for await (const line of createInterface({ input: child.stdout })) {
    if (said.push(line) === instant.line) void wait(instant.turns).then(() => child.kill("SIGKILL"));
  }
  const [code, signal] = await closed;
  if (signal !== "SIGKILL") throw new Error(`the child ended by itself with ${code} after ${said.length} lines`);
  return said.slice(2);
};

const wait = async (turns: number): Promise<void> => {
  for (let left = turns; left > 0; left--) await turn();
};

/**
 * What SQLite itself finds in a journal, read from a copy, so that the next child has to recover the original. Each time
 * a new copy: `close` lets go of a file only when the last prepared statement is garbage collected.
 */
export const found = (file: string): { readonly verdict: unknown; readonly events: ReadonlyMap<string, string> } => {
  const copy = join(mkdtempSync(join(dirname(file), "copy-")), "journal.db");
  for (const tail of ["", "-wal"]) if (existsSync(file + tail)) copyFileSync(file + tail, copy + tail);
  const database = new DatabaseSync(copy);
  const verdict = database.prepare("PRAGMA integrity_check").get()?.["integrity_check"];
  const rows = database.prepare("SELECT id, event FROM events").all();
  database.close();
  rmSync(dirname(copy), { recursive: true });
  return { verdict, events: new Map(rows.map((row) => [String(row["id"]), String(row["event"])])) };
};

/** The toll of many kills over one growing journal. */
export interface Toll {
  readonly announced: number;
  readonly stored: number;
  /** Announced but not there, or not as it was written. */
  readonly lost: readonly string[];
  readonly verdicts: readonly unknown[];
}

export const killAgainAndAgain = async (dist: string, file: string, instants: readonly Instant[]): Promise<Toll> => {
  const announced = new Set<string>();
  const lost = new Set<string>();
  const verdicts: unknown[] = [];
  let stored = 0;
  for (const [round, instant] of instants.entries()) {
    for (const id of await killedAt(dist, file, round * 1_000_000, instant)) announced.add(id);
    const { verdict, events } = found(file);
    for (const id of announced) if (events.get(id) !== canonical(event(id))) lost.add(id);
    verdicts.push(verdict);
    stored = events.size;
  }
  return { announced: announced.size, stored, lost: [...lost], verdicts };
};
