import type { Seconds } from "../../domain/units.ts";
import { logMean, strayLog, type Total, totalOf, type Unknowns } from "./likelihood.ts";
import { type Claims, chainSum } from "./pairing.ts";
import type { TravelWay } from "./pass.ts";
import { meanReaction } from "./reaction.ts";
import type { Watch } from "./watch.ts";

/** Beforehand a fault without a place shows itself about once in so long, or much more seldom or often. Judgement. */
const BETWEEN_S: Seconds = 10;

/** How likely so many presses in so long are, as a logarithm, at a rate of which little is known: Gamma(1, b) beforehand. */
export const logOfRate = ({ presses, time }: Total, b: Seconds = BETWEEN_S): number =>
  Math.log(b) + logFactorial(presses) - (1 + presses) * Math.log(b + time);

/** Presses tied to no place. */
export const logNoPlace = (watches: readonly Watch[]): number => logOfRate(totalOf(watches));

/** A press anywhere on every movement up, or down, missed as often as others are; whatever else was pressed was for nothing. */
export const logAllAlong = (
  watches: readonly Watch[],
  way: TravelWay,
  { reaction, stray, caught }: Unknowns,
): number => {
  const passes = watches.flatMap((watch) => duringWay(watch, way, meanReaction(reaction) + watch.lag));
  return logMean(
    stray.flatMap((rate) =>
      caught.map((surely) =>
        passes.reduce(
          (sum, claims) => sum + Math.log(chainSum([claims], surely, rate)),
          strayLog(totalOf(watches), rate),
        ),
      ),
    ),
  );
};

/** For each movement that way the presses on it, any moment of it as likely as another. */
const duringWay = ({ passes, presses }: Watch, way: TravelWay, delay: Seconds): readonly Claims[] =>
  passes
    .filter((pass) => pass.way === way)
    .map(({ begin, end }) =>
      presses.flatMap(
        (press, i): Claims => (press - delay >= begin && press - delay <= end ? [[i, 1 / (end - begin)]] : []),
      ),
    );

const logFactorial = (n: number): number => {
  let sum = 0;
  for (let i = 2; i <= n; i++) sum += Math.log(i);
  return sum;
};
