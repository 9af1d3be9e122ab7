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
  return x < 2.5 ? 1 - series(x) : fraction(x);
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

const fraction = (x: number): number => {
  let value = x;
  for (let n = 60; n >= 1; n--) value = x + n / 2 / value;
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * value);
};
