import { spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { DatabaseSync } from "@photostructure/sqlite";
import { program } from "./built.ts";
import { callWarm } from "./warm-program.ts";

/** The program as a user's shell runs it: without a terminal, without this test's environment. */
export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

const env = (home: string) => ({ PATH: process.env["PATH"] ?? "", HOME: home });

/** A folder of its own for journal, log and files; call `remove` when done. */
export const workplace = () => {
  const folder = mkdtempSync(join(tmpdir(), "limber-"));
  const file = (name: string, text: string): string => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  const main = () => program();
  return {
    folder,
    file,
    journal: join(folder, "journal.db"),
    remove: () => rmSync(folder, { recursive: true, force: true }),
    /** One call of the program, to its end. */
    limber: (...args: readonly string[]): Ended => callWarm(args, folder),
    /** The same in a process of its own. */
    started: (...args: readonly string[]): Ended => {
      const { status, stdout, stderr } = spawnSync(process.execPath, [main(), ...args], {
        env: env(folder),
        encoding: "utf8",
      });
      return { code: status, out: stdout, err: stderr };
    },
    /** Starts and does not wait. */
    starting: (...args: readonly string[]) =>
      spawn(process.execPath, [main(), ...args], { env: env(folder), stdio: ["ignore", "pipe", "pipe"] }),
  };
};

/** A few quick steps, for runs whose length does not matter. */
export const SHORT_SEQUENCE = `sequence: short
title: Short
steps:
  - { sweep: Pan, speed: full, passes: 2 }
  - { snap: Iris, times: 2, dwell_s: 0.3 }
  - { in-and-out: Prism1, times: 1, dwell_s: 0.3 }
  - { sweep: Blade1A, passes: 2 }
  - { hold: Dimmer, at_pct: [50], seconds: 1 }
`;

/** Looks into the journal of a running program until a driven step has been judged. */
export const untilJudged = async (file: string): Promise<void> => {
  while (!judgedIn(file)) await setTimeout(20);
};

const judgedIn = (file: string): boolean => {
  if (!existsSync(file)) return false;
  const database = new DatabaseSync(file, { readOnly: true });
  try {
    return database.prepare("SELECT event FROM events WHERE kind = 'step-judged'").all().some(wasDriven);
  } catch {
    // Just being made.
    return false;
  } finally {
    database.close();
  }
};

const wasDriven = ({ event }: Readonly<Record<string, unknown>>): boolean => !String(event).includes('"not-fitted"');
