import type { Probability } from "../units.ts";

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
