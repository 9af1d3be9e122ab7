import type { FunctionId } from "../../domain/trade/functions.ts";
import type { FixtureBuild, PartBuild } from "../build.ts";
import type { SimDraw } from "../chance.ts";
import type { MoverTrouble, PartTrouble } from "../trouble.ts";

/** The two axes of the yoke, which wear alike. */
export type AxisFunction = "Pan" | "Tilt";

/** One thing that is physically wrong with a simulated fixture. It says how the thing behaves, never what that looks like. */
export interface PhysicalFault {
  readonly id: string;
  /** What is wrong, as one would say it with the part in the hand. */
  readonly words: string;
  /** The functions it sits on, all of which the fixture must have; none for the fixture as a whole. */
  readonly on: readonly FunctionId[];
  /** Kept aside for measuring: nothing may be tuned on these. */
  readonly aside: boolean;
  /** Drawn from the seed: where, how wide, how bad. Undefined when this fixture cannot have it. */
  readonly troubles: (build: FixtureBuild, chance: SimDraw) => readonly PartTrouble[] | undefined;
}

/**
 * A distance in physical units as a share of a function's whole travel; 0 when it is not
 * fitted. `units` are degrees or per cent.
 */
export const shareOfTravel = (build: FixtureBuild, id: FunctionId, units: number): number => {
  const part = build.parts.find((found) => found.function === id);
  return part?.kind === "travel" ? units / Math.abs(part.to - part.from) : 0;
};

/**
 * The part of this kind that moves a function, for faults that only a wheel, a leaf ... can have; undefined
 * where it is of another kind or not fitted.
 */
export const fitted = <K extends PartBuild["kind"]>(
  build: FixtureBuild,
  id: FunctionId,
  kind: K,
): Extract<PartBuild, { kind: K }> | undefined =>
  build.parts.find((part): part is Extract<PartBuild, { kind: K }> => part.function === id && part.kind === kind);

/**
 * How strongly one place makes itself felt, 0 to 1: 1 at `place`, falling to 0 half of `width` away, round a soft shoulder.
 * `at`, `place` and `width` are shares of the travel, 0 to 1.
 */
export const bump = (at: number, place: number, width: number): number => {
  const away = Math.abs(at - place) / (width / 2);
  return away >= 1 ? 0 : away < 0.5 ? 1 : 2 - 2 * away;
};

/**
 * How strongly one place of a wheel makes itself felt, 0 to 1, where 0 and 1 are the same place.
 * `at`, `place` and `width` are in turns.
 */
export const bumpRound = (at: number, place: number, width: number): number =>
  bump(at - place - Math.round(at - place), 0, width);

/**
 * How far a fault that only shows warm has come, 0 to 1: nothing below the warmth `from`, all of it above `full`. `warmth`
 * is 0 cold to 1 as hot as the fixture gets.
 */
export const warmed = (warmth: number, from: number, full: number): number =>
  Math.min(1, Math.max(0, (warmth - from) / (full - from)));

type MoverHooks = Omit<MoverTrouble, "kind" | "function">;
type DrawnTroubles = PhysicalFault["troubles"];

interface GivenFault {
  readonly id: string;
  readonly on: FunctionId;
  readonly words: string;
  readonly aside: boolean;
  readonly hooks: (...given: Parameters<DrawnTroubles>) => MoverHooks;
}

/** A fault of one moving part and nothing else. */
export const moverFault = ({ id, on, words, aside, hooks }: GivenFault): PhysicalFault => ({
  id,
  words,
  on: [on],
  aside,
  troubles: (build, chance) => [{ kind: "mover", function: on, ...hooks(build, chance) }],
});
