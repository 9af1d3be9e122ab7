import type { MechanismId } from "../../../domain/trade/mechanisms.ts";
import { AXES, MOVERS, type SymptomId } from "../../../domain/trade/symptoms.ts";
import type { Probability } from "../../../domain/units.ts";

/**
 * How often, in six steps: nobody can stand for finer numbers without having counted. Judgement; a shop's own finds
 * replace them.
 */
export const NEARLY_ALWAYS: Probability = 0.85;
export const MOSTLY: Probability = 0.65;
export const OFTEN: Probability = 0.45;
export const SOMETIMES: Probability = 0.25;
export const SELDOM: Probability = 0.1;
export const RARELY: Probability = 0.03;

/** Something physical that a fault brings about, the same whichever fault it was. */
export interface PhysicalEffect {
  readonly words: string;
  /** What an observer makes of it, wherever a mechanism can show it. */
  readonly shows: readonly Shown[];
  /** What follows from it by itself. */
  readonly brings: readonly Brought[];
}

export interface Shown {
  readonly symptom: SymptomId;
  readonly often: Probability;
  readonly because: string;
  /** Where the physics differs from one mechanism to another: only these. */
  readonly on: readonly MechanismId[] | "all";
}

interface Brought {
  readonly consequence: string;
  readonly often: Probability;
  readonly because: string;
}

/**
 * A row of an effect: what it shows, how often and where.
 *
 * @param often - 0 to 1, of the fixtures that have the effect
 * @param on - the mechanisms that can show it so; "all" where nothing else is said
 */
export const shows = (symptom: SymptomId, often: Probability, because: string, on: Shown["on"] = "all"): Shown => ({
  symptom,
  often,
  because,
  on,
});

/** Pan and tilt know by an encoder where they are and correct themselves. */
export const ENCODED: readonly MechanismId[] = AXES;

/** Everything in the head counts steps from a home position and never looks again. */
export const COUNTED: readonly MechanismId[] = MOVERS.filter((mover) => !ENCODED.includes(mover));

/** Of flags and shutter blades only what they do to the light is seen, not where they stand. */
const SEEN_BY_THEIR_LIGHT: readonly MechanismId[] = ["colour-flags", "dimmer-shutter"];

/** Where a part is seen to stand. */
export const COUNTED_AND_SEEN: readonly MechanismId[] = COUNTED.filter((mover) => !SEEN_BY_THEIR_LIGHT.includes(mover));
export const SEEN_TO_STAND: readonly MechanismId[] = [...ENCODED, ...COUNTED_AND_SEEN];
