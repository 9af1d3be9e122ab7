import type { Seconds } from "../units.ts";
import { logMean, strayLog, type Unknowns } from "./likelihood.ts";
import type { Way } from "./pass.ts";
import { meanReaction } from "./reaction.ts";
import type { Watch } from "./watch.ts";

/** Beforehand a fault without a place shows itself about once in so long, or much more seldom or often. Judgement. */
const BETWEEN_S: Seconds = 10;

/** How likely so many presses in so long are, as a logarithm, at a rate of which little is known: Gamma(1, b) beforehand. */
export const logOfRate = (presses: number, time: Seconds, b: Seconds = BETWEEN_S): number =>
  Math.log(b) + logFactorial(presses) - (1 + presses) * Math.log(b + time);

/** Presses tied to no place. */
export const logNoPlace = (watches: readonly Watch[]): number =>
  logOfRate(
    watches.reduce((sum, { presses }) => sum + presses.length, 0),
    watches.reduce((sum, { from, to }) => sum + to - from, 0),
  );

/** Presses anywhere on the way up, or down, and only by mistake otherwise. */
export const logAllAlong = (watches: readonly Watch[], way: Way, { reaction, stray }: Unknowns): number => {
  const parts = watches.map((watch) => duringWay(watch, way, meanReaction(reaction) + watch.lag));
  const inside = logOfRate(
    parts.reduce((sum, { presses }) => sum + presses, 0),
    parts.reduce((sum, { time }) => sum + time, 0),
  );
  const outside = watches.map((watch, i) => ({
    ...watch,
    presses: watch.presses.slice(parts[i]?.presses ?? 0),
    to: watch.to - (parts[i]?.time ?? 0),
  }));
  return inside + logMean(stray.map((rate) => strayLog(outside, rate)));
};

const duringWay = ({ passes, presses }: Watch, way: Way, delay: Seconds) => {
  const those = passes.filter((pass) => pass.way === way);
  return {
    presses: presses.filter((time) => those.some(({ begin, end }) => time - delay >= begin && time - delay <= end))
      .length,
    time: those.reduce((sum, { begin, end }) => sum + end - begin, 0),
  };
};

const logFactorial = (n: number): number => {
  let sum = 0;
  for (let i = 2; i <= n; i++) sum += Math.log(i);
  return sum;
};
