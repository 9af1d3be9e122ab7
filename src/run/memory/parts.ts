import { type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import type { RunSummary } from "../events/summary.ts";

/** A fault that was found, and the part that its repair takes, by what is known of the fault. */
export interface PartPast {
  readonly fault: FaultId;
  readonly part: string;
  readonly run: string;
  readonly at: string;
}

/** One entry for each fault found, the oldest first. */
export const partsIn = (runs: readonly RunSummary[]): readonly PartPast[] =>
  runs.flatMap(({ run, finds }) =>
    finds.flatMap((find) =>
      find.what === "fault" ? [{ fault: find.fault, part: knownFault(find.fault).part, run, at: find.at }] : [],
    ),
  );
