import { type ChildProcess, fork } from "node:child_process";

/** What a writer is to do once its port is open. */
export interface Task {
  readonly path: string;
  /** Levels for ever, or a sweep over both bytes of a 16-bit function. */
  readonly what: "levels" | "sweep";
  /** How the main thread is blocked: for 2 ms in every 5 where busy, for 7 ms in every 50 where it draws a screen. */
  readonly load: "idle" | "busy" | "drawing";
  /** Whether the thread that sends goes before what else runs, where the system allows it. */
  readonly priority: "as it was given" | "raised";
  readonly seconds: number;
}

/** What a writer says of its own run. */
export interface Written {
  /** Of one core, 0 to 1. */
  readonly processor: number;
  readonly frames: Frames;
}

/** What became of a writer's frames; nothing where it has no deadlines of its own. */
export interface Frames {
  /** How late each was when its write began, in ms. */
  readonly late: readonly number[];
  /** Not taken because the one before had not left. */
  readonly dropped: number;
  /** Skipped by the clock. */
  readonly skipped: number;
}

/** One packet as the reader saw it: when, in ms of the machine's monotonic clock, and its first slots. */
export interface Arrival {
  readonly at: number;
  readonly slots: readonly number[];
}

/** A child process that answers every question with one message. */
export interface Child {
  ask<T>(question: unknown): Promise<T>;
  end(): void;
}

export const childOf = (file: string): Child => {
  const child: ChildProcess = fork(new URL(file, import.meta.url), { serialization: "advanced" });
  return {
    ask: (question) =>
      new Promise((resolve, reject) => {
        const died = () => reject(new Error(`${file} ended by itself`));
        child.once("exit", died);
        child.once("message", (answer) => {
          child.off("exit", died);
          resolve(answer as never);
        });
        child.send(question as object);
      }),
    end: () => {
      child.removeAllListeners();
      child.kill();
    },
  };
};

/** The child's side: questions in, answers out. */
export const answering = (answer: (question: never) => unknown): void => {
  process.on("message", async (question) => process.send?.(await answer(question as never)));
};
