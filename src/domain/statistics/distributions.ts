import type { Probability } from "../units.ts";

/** The value, in standard deviations from -9 to 9, below which a standard normal quantity lies with this probability. */
export const normalQuantile = (probability: Probability): number => {
  let low = -9;
  let high = 9;
  for (let i = 0; i < 64; i++) {
    const middle = (low + high) / 2;
    if (complement(-middle / Math.SQRT2) / 2 < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};

/**
 * The complementary error function of any number `x`, from 0 to 2: its series near zero, its continued fraction further out
 * (Abramowitz and Stegun 7.1.6, 7.1.14).
 */
export const complement = (x: number): number => {
  if (x < -6) return 2;
  if (x < 0) return 2 - complement(-x);
  return x < 2.5 ? 1 - series(x) : complementFraction(x);
};

const series = (x: number): number => {
  let term = x;
  let sum = x;
  for (let n = 1; term > 1e-17 * sum; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
};

const complementFraction = (x: number): number => {
  let value = x;
  for (let n = 60; n >= 1; n--) value = x + n / 2 / value;
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * value);
};

/**
 * The value below which Student's t lies with this probability, in units of t, by Newton's rule on the integral of a power
 * of the cosine. `freedom` is the degrees of freedom, from 1 up, whole or not.
 */
export const studentQuantile = (probability: Probability, freedom: number): number => {
  if (probability < 0.5) return -studentQuantile(1 - probability, freedom);
  const whole = cosinePower(Math.PI / 2, freedom - 1);
  const wanted = (2 * probability - 1) * whole;
  // Newton's rule: the curve bends away from its tangents, so from 0 it comes nearer from below and never past the place.
  let angle = 0;
  for (let i = 0; i < MOST_TRIES; i++) {
    const further = (wanted - cosinePower(angle, freedom - 1)) / Math.cos(angle) ** (freedom - 1);
    angle += further;
    if (further < NEAR) break;
  }
  return Math.sqrt(freedom) * Math.tan(angle);
};

const MOST_TRIES = 60;
const NEAR = 1e-12;
const PARTS = 400;
/** Below this power the curve meets zero too steeply for the rule, and is calculated from the power two above. */
const SMOOTH = 4;

/** The integral of a power of the cosine from 0: Student's distribution with t = sqrt(freedom) tan(angle). Simpson's rule. */
const cosinePower = (to: number, power: number): number => {
  if (power < SMOOTH) {
    const edge = Math.max(0, Math.cos(to)) ** (power + 1) * Math.sin(to);
    return ((power + 2) * cosinePower(to, power + 2) - edge) / (power + 1);
  }
  const step = to / PARTS;
  let sum = 0;
  for (let i = 0; i <= PARTS; i++) {
    const weight = i === 0 || i === PARTS ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * Math.max(0, Math.cos(i * step)) ** power;
  }
  return (sum * step) / 3;
};

/** Ranks that the two ends of an interval stand on, and how often such an interval holds the place. */
export interface Depth {
  /** The interval runs from the k-th smallest to the k-th largest midpoint. */
  readonly k: number;
  readonly coverage: Probability;
}

/**
 * How far in from both ends of the sorted midpoints an interval may begin and still hold the place with this confidence.
 * Exact, by the null distribution of the rank sum (Mann and Whitney 1947). `up` and `down` are the number of presses each
 * way. Undefined when even the outermost two midpoints do not hold it, as with three presses each way.
 */
export const depthOf = (up: number, down: number, confidence: Probability = 0.95): Depth | undefined => {
  const ways = waysBelow(up, down);
  const all = ways.reduce((sum, count) => sum + count, 0);
  let tail = 0;
  let k = 0;
  for (; k < ways.length; k++) {
    const next = tail + (ways[k] ?? 0) / all;
    if (1 - 2 * next < confidence - 1e-12) break;
    tail = next;
  }
  return k === 0 ? undefined : { k, coverage: 1 - 2 * tail };
};

/** In how many orders of n and m values the count of inversions is 0, 1, 2, ... n m: the Gaussian binomial coefficients. */
const waysBelow = (n: number, m: number): readonly number[] => {
  const ways = new Array<number>(n * m + 1).fill(0);
  ways[0] = 1;
  for (let i = 1; i <= n; i++) {
    for (let u = n * m; u >= m + i; u--) ways[u] = (ways[u] ?? 0) - (ways[u - m - i] ?? 0);
    for (let u = i; u <= n * m; u++) ways[u] = (ways[u] ?? 0) + (ways[u - i] ?? 0);
  }
  return ways;
};
