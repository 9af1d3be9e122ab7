import { writeFileSync } from "node:fs";
import { FEWEST, WITH_MEDIANS } from "../../../src/data/rack/odd.ts";
import { ODD_LEVELS, SHARERS } from "../../../src/data/rack/odd-levels.ts";
import { type Row, row } from "../line/row.ts";
import { type Sound, soundRacks } from "./simulated.ts";

const LARGEST = 48;
const RACKS = Number(process.env["RACKS"] ?? 200_000);
const RISK = 0.05;

/**
 * Works out the limits of `src/data/rack/odd-levels.ts` by simulation: for every size of rack, and for a risk of 5 % shared by so
 * many readings, what sound racks pass in no more than their share, with two standard errors of the count to spare. `WRITE=1`
 * writes the file. The rows show a few beside the stored ones.
 */
export const oddLevelsBench = (): readonly Row[] => {
  const levels = Array.from({ length: LARGEST - FEWEST + 1 }, (_, n) => levelsFor(n + FEWEST));
  if (process.env["WRITE"] === "1") writeFileSync("src/data/rack/odd-levels.ts", fileOf(levels));
  return [4, 5, 6, 7, 8, 12, 24, 48].flatMap((size) =>
    [0, 4].map((at) =>
      row(
        `${size} of a kind, risk shared by ${SHARERS[at]}: factor on the reference, beside the stored one`,
        "",
        levels[size - FEWEST]?.[at]?.[0] ?? Number.NaN,
        ODD_LEVELS[size - FEWEST]?.[at]?.[0],
      ),
    ),
  );
};

type Level = readonly [factor: number, cut: number];

const levelsFor = (size: number): readonly Level[] => {
  const sound = soundRacks(size, RACKS, size);
  const order = { mean: sound.mean.toSorted(), median: sound.median.toSorted() };
  if (size > WITH_MEDIANS) return SHARERS.map((sharers) => [passedBy(order.mean, RISK / sharers), 0]);
  const both = rarest(sound, order);
  return SHARERS.map((sharers) => {
    // Either measure may name a fixture: each gets the level at which the two together keep to the risk.
    const each = 1 - passedBy(both, RISK / sharers);
    return [passedBy(order.mean, each), passedBy(order.median, each)];
  });
};

/** For every rack how rare the rarer of its two measures is, as 1 less the share of racks that show as much. */
const rarest = (sound: Sound, order: Sound): Float64Array =>
  sound.mean
    .map((mean, rack) => Math.max(placeOf(order.mean, mean), placeOf(order.median, sound.median[rack] ?? 0)))
    .sort();

const placeOf = (sorted: Float64Array, value: number): number => {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] ?? 0) < value) low = middle + 1;
    else high = middle;
  }
  return low / sorted.length;
};

/** What no more than this share of sorted values pass, with two standard errors of their count to spare. */
const passedBy = (sorted: Float64Array, risk: number): number => {
  const count = sorted.length * risk;
  const index = Math.ceil(sorted.length - count + 2 * Math.sqrt(count));
  return sorted[Math.min(sorted.length - 1, index)] ?? Number.NaN;
};

const digits = (value: number): string => String(Number(value.toPrecision(5)));

const fileOf = (levels: readonly (readonly Level[])[]): string => `/**
 * Limits for readings of racks with nothing wrong, simulated by \`npm run bench -- odd-levels\` (WRITE=1), ${RACKS} racks of each size,
 * readings that scatter normally: a line for each size from ${FEWEST} to ${LARGEST}, an entry for each number of readings in SHARERS that
 * share a risk of 5 %: by how much the reference critical values grow, and the cut for median distances (0 where none is used).
 */
// biome-ignore format: a table is read line by line, a line for each size.
export const ODD_LEVELS: readonly (readonly (readonly [factor: number, cut: number])[])[] = [
${levels.map((line) => `  [${line.map(([factor, cut]) => `[${digits(factor)}, ${digits(cut)}]`).join(", ")}],`).join("\n")}
];

/** Readings that share the risk; a number in between counts as the next greater one. */
export const SHARERS: readonly number[] = [${SHARERS.join(", ")}];
`;
