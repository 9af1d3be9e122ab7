import type { Probability, Seconds } from "../../domain/units.ts";
import { beliefsOf, type PatternBelief, UNKNOWN } from "./beliefs.ts";
import { usualDelay } from "./delay.ts";
import { arrivalsOf, crossingsOf } from "./events.ts";
import { totalOf, type Unknowns } from "./likelihood.ts";
import { settledIn } from "./settled.ts";
import type { Watch } from "./watch.ts";

/** Enough to compare tests by. */
const COARSE: Unknowns = {
  ...UNKNOWN,
  shifts: [-0.2, -0.1, 0, 0.1, 0.2, 0.3, 0.4, 0.5],
  caught: [0.6, 0.9],
  stray: [0.02],
};
/** Patterns less believed in than this are not worth a look ahead. */
const NEGLIGIBLE: Probability = 0.03;

/**
 * How likely one more watch settles the pattern: over what may be behind the presses, as far as it is believed in, whether
 * the presses that are typical of it would settle it rightly.
 */
export const chanceToSettle = (
  watches: readonly Watch[],
  next: Watch,
  beliefs: readonly PatternBelief[],
): Probability =>
  beliefs
    .filter(({ belief }) => belief >= NEGLIGIBLE)
    .filter((truth) => {
      const all = [...watches, { ...next, presses: typicalPresses(next, truth, meanGap(watches)) }];
      return settledIn(beliefsOf(all, COARSE), all)?.pattern.kind === truth.pattern.kind;
    })
    .reduce((sum, { belief }) => sum + belief, 0);

/** When somebody of usual reaction would press, nothing missed and nothing imagined. */
const typicalPresses = (watch: Watch, { pattern, place }: PatternBelief, gap: Seconds): readonly Seconds[] => {
  const delay = usualDelay(watch, UNKNOWN.reaction);
  const events = (): readonly Seconds[] => {
    if (pattern.kind === "no-place") return evenly(watch.from, watch.to - delay, gap);
    if (pattern.kind === "position") return place ? crossingsOf(watch, place.at) : [];
    if (pattern.kind !== "one-way") return arrivalsOf(watch, pattern);
    if (place) return crossingsOf(watch, place.at, pattern.way);
    return watch.passes
      .filter(({ way }) => way === pattern.way)
      .map(({ begin, end }, i) => begin + (end - begin) * ((i * 0.618) % 1 || 0.5));
  };
  return events().map((event) => event + delay);
};

/** Between presses so far. */
const meanGap = (watches: readonly Watch[]): Seconds => {
  const { presses, time } = totalOf(watches);
  return time / Math.max(1, presses);
};

const evenly = (from: Seconds, to: Seconds, gap: Seconds): readonly Seconds[] =>
  Array.from({ length: Math.max(0, Math.floor((to - from) / gap)) }, (_, i) => from + (i + 0.5) * gap);
