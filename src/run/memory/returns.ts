import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import type { ReportedSymptom } from "../events/event.ts";
import type { RunSummary } from "../events/summary.ts";
import { hoursBetween, jobsIn } from "./jobs.ts";
import { keyOf } from "./symptoms.ts";

/** The same fault found, or the same symptom seen, in a later job of one fixture. */
export type Return = Trouble & {
  readonly first: string;
  readonly again: string;
  /** From the end of the first run to the start of the other. */
  readonly hours: number;
};

type Trouble = { readonly kind: "fault"; readonly fault: FaultId } | ({ readonly kind: "symptom" } & ReportedSymptom);

/**
 * What came again on one fixture: the same fault found, or the same symptom seen, in a later job. `runs` are given oldest
 * first, and each time is counted from the time before.
 */
export const returnsIn = (runs: readonly RunSummary[]): readonly Return[] => {
  const jobOf = jobsIn(runs);
  const last = new Map<string, RunSummary>();
  return runs.flatMap((run) =>
    seenIn(run).flatMap(([key, what]) => {
      const before = last.get(key);
      last.set(key, run);
      return before && jobOf(before.run) !== jobOf(run.run)
        ? [{ ...what, first: before.run, again: run.run, hours: hoursBetween(before, run) }]
        : [];
    }),
  );
};

/** Everything once, however many steps showed it. */
const seenIn = ({ steps, finds }: RunSummary): readonly (readonly [string, Trouble])[] => [
  ...new Map<string, Trouble>([
    ...finds.flatMap((find) =>
      find.what === "fault" ? [[find.fault, { kind: "fault", fault: find.fault }] as const] : [],
    ),
    ...steps
      .flatMap(({ symptoms }) => symptoms)
      .map((symptom) => [keyOf(symptom), { kind: "symptom", ...symptom }] as const),
  ]),
];
