import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import { grouped } from "../../domain/keys.ts";
import type { RunSummary } from "../events/summary.ts";
import { mendedIn } from "../release/repairs.ts";

/** How long a finished run of one sequence takes on one kind of fixture. */
export interface MeanMinutes {
  readonly sequence: string;
  readonly profile: string;
  readonly runs: number;
  readonly mean: number;
}

/** How many minutes runs take, sequence by sequence: of finished runs only, breaks left out; the commonest first. */
export const meanMinutes = (runs: readonly RunSummary[]): readonly MeanMinutes[] => {
  const finished = runs.filter(({ ended }) => ended === "finished");
  return grouped(finished, ({ sequence, profile }) => JSON.stringify([sequence, profile]))
    .map(([first, ...others]) => ({
      sequence: first.sequence,
      profile: first.profile,
      runs: 1 + others.length,
      mean: others.reduce((sum, { minutes }) => sum + minutes, first.minutes) / (1 + others.length),
    }))
    .sort((a, b) => b.runs - a.runs);
};

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
