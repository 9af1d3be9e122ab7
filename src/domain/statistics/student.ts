import type { Probability } from "../units.ts";

/** The value below which Student's t lies with this probability; any degrees of freedom from 1 up, whole or not. */
export const studentQuantile = (probability: Probability, freedom: number): number => {
  if (probability < 0.5) return -studentQuantile(1 - probability, freedom);
  const whole = cosinePower(Math.PI / 2, freedom - 1);
  let low = 0;
  let high = Math.PI / 2;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (0.5 + cosinePower(middle, freedom - 1) / whole / 2 < probability) low = middle;
    else high = middle;
  }
  return Math.sqrt(freedom) * Math.tan((low + high) / 2);
};

const PARTS = 400;
/** Below this power the curve meets zero too steeply for the rule, and is reckoned from the power two above. */
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
