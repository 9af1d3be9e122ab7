import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** One position that is not where the others would have it: a slip in one number of the chart. */
export const positionsUneven: ProfileRule = {
  name: "positions-uneven",
  why: "A wheel that is sent a few levels off its position may show two pictures, or the one before.",
  find: (read) =>
    functionsOf(read, "wheel").flatMap(([id, { positions }]) =>
      slipsIn(positions.map(({ at }) => at)).map(({ index, right }) => ({
        path: ["functions", id, "positions", index, "at"],
        message: `${positions[index]?.at} is not as far from its neighbours as all others are`,
        instead: `at: ${right}`,
      })),
    ),
};

/** Both ways beside it differ from the usual one and together make two of them. */
const slipsIn = (levels: readonly number[]): readonly { readonly index: number; readonly right: number }[] => {
  const ways = levels.slice(1).map((level, index) => level - (levels[index] ?? 0));
  const usual = commonest(ways);
  if (usual === undefined) return [];
  return ways.flatMap((way, index) => {
    const next = ways[index + 1];
    return next !== undefined && way !== usual && way + next === 2 * usual
      ? [{ index: index + 1, right: (levels[index] ?? 0) + usual }]
      : [];
  });
};

/** Of at least half of all ways, else there is no usual one. */
const commonest = (ways: readonly number[]): number | undefined =>
  ways.find((way) => ways.length > 2 && ways.filter((other) => other === way).length * 2 >= ways.length);
