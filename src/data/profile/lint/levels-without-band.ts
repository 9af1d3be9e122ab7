import type { Banded } from "../profile.ts";
import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** Levels of a slot in bands for which no band is given. */
export const levelsWithoutBand: ProfileRule = {
  name: "levels-without-band",
  why: "A gap is where charts are mistyped, and the band beside it is then one or two levels off.",
  find: (read) =>
    functionsOf(read, "banded").flatMap(([id, spec]) =>
      gapsIn(spec).map(([from, to]) => ({
        path: ["functions", id, "bands"],
        at: "key" as const,
        message: from === to ? `level ${from} is in no band` : `levels ${from} to ${to} are in no band`,
        instead: `{ from: ${from}, to: ${to}, is: nothing } if the chart says so`,
      })),
    ),
};

const gapsIn = ({ bands }: Banded): readonly (readonly [number, number])[] => {
  const sorted = [...bands].sort((a, b) => a.from - b.from);
  const starts = [0, ...sorted.map(({ to }) => to + 1)];
  const ends = [...sorted.map(({ from }) => from - 1), 255];
  return starts.flatMap((start, index) => {
    const end = ends[index] ?? 255;
    return start <= end ? [[start, end] as const] : [];
  });
};
