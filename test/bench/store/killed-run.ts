import { spawn } from "node:child_process";
import { once } from "node:events";
import { resolve } from "node:path";
import { createInterface } from "node:readline";
import type { Readable } from "node:stream";
import { setTimeout as wait } from "node:timers/promises";
import { program } from "../../kit/built.ts";

/** What a person types to start the program, and then into it. */
export interface Command {
  readonly args: readonly string[];
  readonly typed: string;
}

/** When to kill: after so many events were told to be on disk, and so many milliseconds later. */
export interface Instant {
  readonly stored: number;
  readonly later: number;
}

/** An event that the program was told to be on disk. */
interface Stored {
  readonly id: string;
  readonly event: string;
}

export interface Outcome {
  readonly how: "killed" | "ended by itself";
  readonly code: number | null;
  readonly stored: readonly Stored[];
  readonly complaint: string;
}

/** A run that is in no hurry any more has hung; it is ended by another signal, and so counts as one that did not come to its end. */
const HUNG_MS = 300_000;

/** Runs the program as a user does, listening to what it was told to be on disk, and kills it at that instant; without one it may end. */
export const limberUntil = async (
  home: string,
  { args, typed }: Command,
  instant: Instant | undefined,
): Promise<Outcome> => {
  const child = spawn(process.execPath, ["--import", resolve("test/bench/store/tell-stored.mjs"), program(), ...args], {
    env: { PATH: process.env["PATH"], HOME: home },
    stdio: ["pipe", "ignore", "pipe", "pipe"],
  });
  // A program that was killed reads nothing more.
  child.stdin?.on("error", () => {});
  child.stdin?.end(typed);
  const closed = once(child, "close");
  const hung = setTimeout(() => child.kill("SIGABRT"), HUNG_MS);
  const [, , stderr, telling] = child.stdio as readonly (Readable | null)[];
  const complaint = read(stderr as Readable);
  const kill = () => wait(instant?.later).then(() => child.kill("SIGKILL"));
  if (instant?.stored === 0) void kill();
  const stored: Stored[] = [];
  for await (const line of createInterface({ input: telling as Readable })) {
    const one = told(line);
    if (one && stored.push(one) === instant?.stored) void kill();
  }
  const [code, signal] = (await closed) as [number | null, string | null];
  clearTimeout(hung);
  return { how: signal === "SIGKILL" ? "killed" : "ended by itself", code, stored, complaint: await complaint };
};

/** A line that the kill cut through was not told. */
const told = (line: string): Stored | undefined => {
  try {
    return JSON.parse(line) as Stored;
  } catch {
    return undefined;
  }
};

const read = async (stream: Readable): Promise<string> => (await stream.setEncoding("utf8").toArray()).join("");
