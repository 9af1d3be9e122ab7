/** A draw from [0, 1) that is the same again for the same seed. */
export type SimDraw = () => number;

/**
 * A generator of random numbers from 0 up to but not 1: the small generator known as mulberry32 (public domain, T.
 * Ettinger), with 32 bits of state. `seed` is any whole number, of which the low 32 bits count.
 */
export const chanceFrom = (seed: number): SimDraw => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
};

/**
 * A seed for a named purpose, so that several generators from one seed do not march in step. `seed`, and the
 * seed that is returned, are whole numbers.
 */
export const seedFor = (seed: number, purpose: string): number =>
  [...purpose].reduce(
    (hash, letter) => Math.imul(hash ^ letter.charCodeAt(0), 0x01000193) >>> 0,
    (seed ^ 0x811c9dc5) >>> 0,
  );

/** A number drawn evenly from `low` to `high`, in their own unit. */
export const between = (chance: SimDraw, low: number, high: number): number => low + (high - low) * chance();

/** A standard normal number, in standard deviations, by Box and Muller (1958). */
export const normal = (chance: SimDraw): number =>
  Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());

/**
 * An exponentially modified normal number, never below 0: the usual shape of human reaction times. `mean` and `spread` are
 * the mean and standard deviation of the normal part, `tail` is the mean of the exponential part, all in one unit, which is
 * that of the result; reactions here are in seconds.
 */
export const exGaussian = (chance: SimDraw, mean: number, spread: number, tail: number): number =>
  Math.max(0, mean + spread * normal(chance) - tail * Math.log(1 - chance()));
