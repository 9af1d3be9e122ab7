import { Worker } from "node:worker_threads";
import type { Seconds } from "../../domain/units.ts";
import type { ChainHead, PrintedHead, Stamp } from "../../run/events/chain.ts";
import type { AcceptedFinding, JournalFinding } from "../../run/events/journal-finding.ts";
import type { Which } from "../../run/events/summary.ts";
import { JournalError, type JournalTrouble } from "../../run/ports.ts";
import type { Checked } from "./check.ts";
import type { DerivedFor, StandingsSoFar, Teaching } from "./derived.ts";
import type { FoldProgress } from "./fold.ts";
import type { EventRow, StoredRow } from "./row.ts";
import type { EventsOf } from "./table.ts";
import { journalError } from "./trouble.ts";

/** What may be asked of the worker thread. It does one thing after the other, in the order asked. */
export type Ask =
  | { readonly kind: "open"; readonly file: string; readonly patience: Seconds }
  | { readonly kind: "insert"; readonly rows: readonly EventRow[] }
  | {
      readonly kind: "page";
      readonly of: EventsOf;
      readonly after: Stamp | undefined;
      readonly limit: number;
    }
  | { readonly kind: "backup"; readonly file: string }
  | { readonly kind: "catch-up"; readonly most: number }
  | { readonly kind: "briefs"; readonly which: Which; readonly least: number }
  | { readonly kind: "teaching"; readonly least: number }
  | { readonly kind: "standings"; readonly which: DerivedFor; readonly least: number; readonly most: number }
  | { readonly kind: "forget" }
  | { readonly kind: "head" }
  | { readonly kind: "open-elsewhere"; readonly least: number }
  | { readonly kind: "check-chain"; readonly after: ChainHead | undefined; readonly most: number }
  | { readonly kind: "check-runs"; readonly after: string; readonly most: number }
  | { readonly kind: "check-fixture"; readonly serial: string }
  | { readonly kind: "check-fixtures"; readonly after: string; readonly most: number }
  | { readonly kind: "check-rules" }
  | { readonly kind: "accepted" }
  | { readonly kind: "accept"; readonly finding: AcceptedFinding }
  | { readonly kind: "has-head"; readonly head: PrintedHead }
  | { readonly kind: "close" };

export interface Answers {
  readonly open: readonly JournalFinding[];
  readonly insert: undefined;
  readonly page: readonly StoredRow[];
  readonly backup: undefined;
  readonly "catch-up": FoldProgress;
  readonly briefs: readonly string[] | undefined;
  readonly teaching: Teaching | undefined;
  readonly standings: StandingsSoFar | undefined;
  readonly forget: FoldProgress;
  readonly head: ChainHead | undefined;
  readonly "open-elsewhere": readonly string[] | undefined;
  readonly "check-chain": Checked<ChainHead>;
  readonly "check-runs": Checked<string>;
  readonly "check-fixture": readonly JournalFinding[];
  readonly "check-fixtures": Checked<string>;
  readonly "check-rules": readonly JournalFinding[];
  readonly accepted: readonly AcceptedFinding[];
  readonly accept: undefined;
  readonly "has-head": boolean;
  readonly close: undefined;
}

export interface JournalQuestion {
  readonly number: number;
  readonly ask: Ask;
}

/** A JournalError as it travels between threads, where classes are lost. */
interface SentTrouble {
  readonly code: JournalTrouble;
  readonly message: string;
  /** In the words of SQLite or the system. */
  readonly cause: string;
}

export type JournalReply =
  | { readonly number: number; readonly kind: "done"; readonly value: Answers[keyof Answers] }
  | { readonly number: number; readonly kind: "trouble"; readonly trouble: SentTrouble }
  | { readonly number: number; readonly kind: "bug"; readonly message: string };

/** The worker thread as seen from outside. */
export interface Thread {
  /** Rejects with JournalError; with "worker-died" when no answer can come any more. */
  ask<A extends Ask>(ask: A): Promise<Answers[A["kind"]]>;
  stop(): Promise<void>;
}

interface WaitingAsk {
  readonly done: (value: never) => void;
  readonly failed: (error: Error) => void;
}

/**
 * Starts the worker thread that has the journal open. What is asked of it rejects with
 * JournalError, also when the thread has died.
 */
export const startThread = (code: URL, file: string): Thread => {
  const worker = new Worker(code, { name: "journal" });
  const waiting = new Map<number, WaitingAsk>();
  let asked = 0;
  let dead: Error | undefined;
  const died = (cause: unknown) => {
    dead ??= journalError("worker-died", file, cause);
    for (const { failed } of waiting.values()) failed(dead);
    waiting.clear();
  };
  worker.on("error", died);
  worker.on("exit", (exit) => died(`exit code ${exit}`));
  worker.on("message", (reply: JournalReply) => {
    const waiter = waiting.get(reply.number);
    waiting.delete(reply.number);
    if (waiter) settle(reply, waiter);
  });
  return {
    ask: (ask) =>
      new Promise((done, failed) => {
        if (dead) return failed(dead);
        asked += 1;
        waiting.set(asked, { done, failed });
        worker.postMessage({ number: asked, ask } satisfies JournalQuestion);
      }),
    stop: async () => {
      dead ??= new Error("Bug: the journal is closed");
      await worker.terminate();
    },
  };
};

const settle = (reply: JournalReply, { done, failed }: WaitingAsk): void => {
  if (reply.kind === "done") done(reply.value as never);
  else if (reply.kind === "trouble") failed(fromTravel(reply.trouble));
  else failed(new Error(reply.message));
};

const fromTravel = ({ code, message, cause }: SentTrouble) => new JournalError(code, message, { cause });
