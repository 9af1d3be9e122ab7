import { Worker } from "node:worker_threads";
import { JournalError } from "../../run/ports.ts";
import type { Answers, Ask, Question, Reply, Trouble } from "./messages.ts";
import { journalError } from "./trouble.ts";

/** The worker thread as seen from outside. */
export interface Thread {
  /** Rejects with JournalError; with "worker-died" when no answer can come any more. */
  ask<A extends Ask>(ask: A): Promise<Answers[A["kind"]]>;
  stop(): Promise<void>;
}

interface Waiting {
  readonly done: (value: never) => void;
  readonly failed: (error: Error) => void;
}

export const startThread = (code: URL, file: string): Thread => {
  const worker = new Worker(code, { name: "journal" });
  const waiting = new Map<number, Waiting>();
  let asked = 0;
  let dead: Error | undefined;
  const died = (cause: unknown) => {
    dead ??= journalError("worker-died", file, cause);
    for (const { failed } of waiting.values()) failed(dead);
    waiting.clear();
  };
  worker.on("error", died);
  worker.on("exit", (exit) => died(`exit code ${exit}`));
  worker.on("message", (reply: Reply) => {
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
        worker.postMessage({ number: asked, ask } satisfies Question);
      }),
    stop: async () => {
      dead ??= new Error("Bug: the journal is closed");
      await worker.terminate();
    },
  };
};

const settle = (reply: Reply, { done, failed }: Waiting): void => {
  if (reply.kind === "done") done(reply.value as never);
  else if (reply.kind === "trouble") failed(fromTravel(reply.trouble));
  else failed(new Error(reply.message));
};

const fromTravel = ({ code, message, cause }: Trouble) => new JournalError(code, message, { cause });
