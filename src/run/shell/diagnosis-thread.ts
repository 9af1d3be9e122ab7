import { Worker } from "node:worker_threads";
import { type Diagnosis, diagnose, type Findings } from "../machine/diagnose.ts";
import type { DiagnosisDoor } from "../ports.ts";

/** What of the findings stays the same for a whole run, or nearly: it travels to the thread once, and again when it changed. */
type Standing = Pick<Findings, "profile" | "bench" | "learned" | "constants"> & Pick<Findings["view"], "opened">;

/** A question as it travels: with what stands only where that is other than before. */
export interface DiagnosisQuestion {
  readonly standing: Standing | "as before";
  readonly rest: Omit<Findings, "profile" | "bench" | "learned" | "constants">;
}

/** For runs faster than real time: worked out on the spot, since the clock waits anyway. */
export const diagnosedHere: DiagnosisDoor = {
  ask: async (findings) => diagnose(findings),
  close: async () => {},
};

/**
 * Works out diagnoses in a worker thread, started at once so that its first answer does
 * not wait for it; one question at a time.
 */
export const diagnosisThread = (
  code: URL = new URL("./diagnosis-worker.js", import.meta.url),
  note: (what: string, details: Readonly<Record<string, unknown>>) => void = () => {},
): DiagnosisDoor => {
  let worker: Worker | undefined;
  let sent: Standing | undefined;
  const start = (): Worker => {
    const begun = new Worker(code, { name: "diagnosis" });
    sent = undefined;
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
      const standing = standingOf(findings);
      const before = sent;
      sent = standing;
      const answer = await answerOf(worker, before && isSame(before, standing) ? "as before" : standing, findings);
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

type ThreadAnswer =
  | { readonly kind: "done"; readonly diagnosis: Diagnosis }
  | { readonly kind: "died"; readonly cause: string };

const standingOf = ({ profile, bench, learned, constants, view: { opened } }: Findings): Standing => ({
  profile,
  bench,
  learned,
  constants,
  opened,
});

/** The very same values: nothing of them is compared. */
const isSame = (a: Standing, b: Standing): boolean =>
  a.profile === b.profile &&
  a.bench === b.bench &&
  a.learned === b.learned &&
  a.constants === b.constants &&
  a.opened === b.opened;

const answerOf = (worker: Worker, standing: DiagnosisQuestion["standing"], findings: Findings): Promise<ThreadAnswer> =>
  new Promise((resolve) => {
    const settle = (answer: ThreadAnswer) => {
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
    const { view, simulated, person, latest, open } = findings;
    const question: DiagnosisQuestion = {
      standing,
      rest: { view: { ...view, opened: undefined }, simulated, person, latest, open },
    };
    worker.postMessage(question);
  });
