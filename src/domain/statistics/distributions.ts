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

/**
 * The value, 0 to 1, below which a Beta(a, b) quantity lies with this probability, found by halving the interval 60 times.
 * `probability` is from 0 to 1, `a` and `b` are above 0 and at most some thousands.
 */
export function betaQuantile(probability: Probability, a: number, b: number): number {
  let low = 0;
  let high = 1;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (betaBelow(middle, a, b) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * The probability that a Beta(a, b) quantity lies below `x`, 0 to 1: the regularised incomplete beta function by
 * its continued fraction (Abramowitz and Stegun 26.5.8). Outside of `x` from 0 to 1 it is 0 or 1; `a` and `b`
 * are above 0 and at most some thousands.
 */
export function betaBelow(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - betaBelow(1 - x, b, a);
  const front = Math.exp(lnGamma(a + b) - lnGamma(a) - lnGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  return (front * betaFraction(x, a, b)) / a;
}

/** From the innermost term outwards: simple, and exact enough for a and b up to some thousands. */
function betaFraction(x: number, a: number, b: number): number {
  let value = 1;
  for (let m = 400; m >= 1; m--) {
    const odd = (-(a + m - 1) * (a + b + m - 1) * x) / ((a + 2 * m - 2) * (a + 2 * m - 1));
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    value = 1 + odd / (1 + even / value);
  }
  return 1 / value;
}

const LANCZOS = [
  676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905,
  -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
] as const;

/** Logarithm of the gamma function for positive arguments (Lanczos 1964, g = 7, nine terms). */
function lnGamma(x: number): number {
  const series = LANCZOS.reduce((sum, term, i) => sum + term / (x + i), 0.99999999999980993);
  const base = x + 6.5;
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(base) - base + Math.log(series);
}

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
