import { Worker } from "node:worker_threads";
import type { DiagnosisDoor } from "../ports.ts";
import { type Diagnosis, diagnose, type Findings } from "../session/diagnose.ts";

/** For runs in no real time: worked out on the spot, since the clock waits anyway. */
export const diagnosedHere: DiagnosisDoor = {
  ask: async (findings) => diagnose(findings),
  close: async () => {},
};

/** A worker thread, started at once so that its first answer does not wait for it; one question at a time. */
export const diagnosisThread = (
  code: URL = new URL("./diagnosis-worker.js", import.meta.url),
  note: (what: string, details: Readonly<Record<string, unknown>>) => void = () => {},
): DiagnosisDoor => {
  let worker: Worker | undefined;
  const start = (): Worker => {
    const begun = new Worker(code, { name: "diagnosis" });
    // Nobody waits for it at the end of the program.
    begun.unref();
    // Without a listener an error between two questions would end the program; and who is dead answers nobody.
    begun.on("error", (error) => {
      note("diagnosis thread died", { cause: String(error) });
    });
    begun.once("exit", () => {
      if (worker === begun) worker = undefined;
    });
    return begun;
  };
  worker = start();
  return {
    ask: async (findings) => {
      worker ??= start();
      const answer = await answerOf(worker, findings);
      if (answer.kind === "done") return answer.diagnosis;
      // Frames stand still for as long as it takes, but the run goes on.
      note("diagnosis worked out on the thread of the frames", { cause: answer.cause });
      return diagnose(findings);
    },
    close: async () => {
      await worker?.terminate();
    },
  };
};

type Answer =
  | { readonly kind: "done"; readonly diagnosis: Diagnosis }
  | { readonly kind: "died"; readonly cause: string };

const answerOf = (worker: Worker, findings: Findings): Promise<Answer> =>
  new Promise((resolve) => {
    const settle = (answer: Answer) => {
      worker.off("message", done);
      worker.off("error", failed);
      worker.off("exit", ended);
      resolve(answer);
    };
    const done = (diagnosis: Diagnosis) => settle({ kind: "done", diagnosis });
    const failed = (error: unknown) => settle({ kind: "died", cause: String(error) });
    const ended = (code: number) => settle({ kind: "died", cause: `exit code ${code}` });
    worker.on("message", done);
    worker.on("error", failed);
    worker.on("exit", ended);
    worker.postMessage(findings);
  });
