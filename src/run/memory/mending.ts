import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import { grouped } from "../events/grouped.ts";
import type { RunSummary } from "../events/summary.ts";

/** How long repairing a fault has taken here, as those who did it wrote down. */
export interface MeanMending {
  readonly mended: FaultId | "something-else";
  readonly times: number;
  readonly mean: number;
}

/** How many minutes repairs take, fault by fault; what was repaired most often first. */
export const meanMending = (runs: readonly RunSummary[]): readonly MeanMending[] => {
  const repairs = runs.flatMap((run) => run.repairs);
  return grouped(repairs, mendedIn)
    .map((group) => ({
      mended: mendedIn(group[0]),
      times: group.length,
      mean: group.reduce((sum, { minutes }) => sum + minutes, 0) / group.length,
    }))
    .sort((a, b) => b.times - a.times);
};

const mendedIn = (repair: RunSummary["repairs"][number]): MeanMending["mended"] =>
  repair.what === "fault" ? repair.fault : "something-else";
