import { referenceCriticals, WITH_MEDIANS } from "../../../src/data/rack/odd.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";

/** What racks with nothing wrong show in one quantity, a value for each rack: the two measures that a rule sets its limits to. */
export interface Sound {
  /** The greatest distance from the mean in any round, in parts of the reference critical value of that round. */
  readonly mean: Float64Array;
  /** The greatest distance from the median, in median deviations; 0 in a rack too large to look at it. */
  readonly median: Float64Array;
}

/** So many sound racks of one size; readings scatter normally. The same as the rules compute, without an object for each value. */
export const soundRacks = (size: number, racks: number, seed: number): Sound => {
  const draw = normals(seed);
  const criticals = referenceCriticals(size);
  const sound = { mean: new Float64Array(racks), median: new Float64Array(racks) };
  const values = new Float64Array(size);
  for (let rack = 0; rack < racks; rack++) {
    for (let n = 0; n < size; n++) values[n] = draw();
    values.sort();
    sound.mean[rack] = greatestRatio(values, criticals);
    if (size <= WITH_MEDIANS) sound.median[rack] = greatestMedianDistance(values);
  }
  return sound;
};

/** Polar method of Marsaglia: two at a time. */
const normals = (seed: number): (() => number) => {
  const chance = chanceFrom(seed);
  let kept: number | undefined;
  return () => {
    if (kept !== undefined) {
      const value = kept;
      kept = undefined;
      return value;
    }
    for (;;) {
      const [u, v] = [2 * chance() - 1, 2 * chance() - 1];
      const s = u * u + v * v;
      if (s >= 1 || s === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(s)) / s);
      kept = v * factor;
      return u * factor;
    }
  };
};

/** The most distant of sorted values is the first or the last of those left. */
const greatestRatio = (values: Float64Array, criticals: readonly number[]): number => {
  let [low, high, sum, squares] = [0, values.length - 1, 0, 0];
  for (const value of values) {
    sum += value;
    squares += value * value;
  }
  let greatest = 0;
  for (const critical of criticals) {
    const count = high - low + 1;
    const mean = sum / count;
    const deviation = Math.sqrt((squares - count * mean * mean) / (count - 1));
    const [below, above] = [mean - (values[low] ?? 0), (values[high] ?? 0) - mean];
    greatest = Math.max(greatest, Math.max(below, above) / deviation / critical);
    const gone = (above > below ? values[high--] : values[low++]) ?? 0;
    sum -= gone;
    squares -= gone * gone;
  }
  return greatest;
};

/** Makes the median deviation of normal values as large as their standard deviation. */
const NORMAL = 0.6745;

const greatestMedianDistance = (values: Float64Array): number => {
  const middle = medianOf(values);
  const deviation = medianOf(values.map((value) => Math.abs(value - middle)).sort());
  return (NORMAL * Math.max(middle - (values[0] ?? 0), (values.at(-1) ?? 0) - middle)) / deviation;
};

const medianOf = (sorted: Float64Array): number => {
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? 0) + (sorted[Math.floor(half)] ?? 0)) / 2;
};
