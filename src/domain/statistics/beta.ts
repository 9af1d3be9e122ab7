/**
 * The value, 0 to 1, below which a Beta(a, b) quantity lies with this probability, found by halving the interval 60 times.
 * `probability` is from 0 to 1, `a` and `b` are above 0 and at most some thousands.
 */
export function betaQuantile(probability: number, a: number, b: number): number {
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
  return (front * fraction(x, a, b)) / a;
}

/** From the innermost term outwards: simple, and exact enough for a and b up to some thousands. */
function fraction(x: number, a: number, b: number): number {
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
