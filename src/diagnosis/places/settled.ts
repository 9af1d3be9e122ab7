import type { Probability } from "../../domain/units.ts";
import type { PatternBelief } from "./beliefs.ts";
import { arrivalsOf } from "./events.ts";
import type { PatternKind } from "./pattern.ts";
import type { Watch } from "./watch.ts";

/** Below this belief it is not settled. */
const ENOUGH: Probability = 0.95;

/**
 * The pattern believed in enough to act on; undefined: can't say yet. Full sweeps alone cannot part an end from one direction
 * close to it or from the turning round itself, however often they are played: that takes a sweep that stops short.
 */
export const settledIn = (beliefs: readonly PatternBelief[], watches: readonly Watch[]): PatternBelief | undefined => {
  const [first] = beliefs;
  if (!first || first.belief < ENOUGH) return undefined;
  return ABOUT_TURNING.has(first.pattern.kind) && !turnedShort(watches) ? undefined : first;
};

const ABOUT_TURNING: ReadonlySet<PatternKind> = new Set(["low-end", "high-end", "both-ends", "turn-rounds"]);

/** Whether some movement turned round away from both ends. */
export const turnedShort = (watches: readonly Watch[]): boolean =>
  watches.some((watch) => watch.passes.length > arrivalsOf(watch, { kind: "both-ends" }).length);
