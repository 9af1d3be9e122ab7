import { wayWords } from "./pattern-words.ts";
import type { TimedWay } from "./stopwatch.ts";

/** "on the way up (DMX rising) 4.1 s, plus or minus 0.2 s (6 presses); should be 2.9 s: slower than it should be". */
export const timedWords = ({ way, took, interval, presses, expected, slow }: TimedWay): string => {
  const count = `${presses} ${presses === 1 ? "press" : "presses"}`;
  const doubt = interval
    ? `, plus or minus ${((interval.high - interval.low) / 2).toFixed(1)} s (${count})`
    : ` (${count}: too few to say how exactly)`;
  const verdict = slow ? ": slower than it should be" : "";
  return `on the way ${wayWords(way)} ${took.toFixed(1)} s${doubt}; should be ${expected.toFixed(1)} s${verdict}`;
};
