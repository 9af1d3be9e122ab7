import type { Travel } from "../../data/profile/profile.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import { beliefsOf, type PatternBelief, type Spread, UNKNOWN } from "./beliefs.ts";
import { type FoundPlace, foundPlace } from "./found-place.ts";
import type { Unknowns } from "./likelihood.ts";
import type { PatternKind } from "./pattern.ts";
import { type PlacedPress, spotsOf } from "./spots.ts";
import { arrivalsOf, type Watch } from "./watch.ts";

/** What the presses of some watches of one function say: which pattern, and where. */
export interface Assessment {
  readonly watches: readonly Watch[];
  /** The strongest first. */
  readonly beliefs: readonly PatternBelief[];
  /** Undefined: can't say yet. */
  readonly settled: PatternBelief | undefined;
  /** If it is tied to a place both ways: the presses that belong to it, and where that is. */
  readonly spots: readonly PlacedPress[];
  readonly place: FoundPlace | undefined;
}

/**
 * What the presses of one function say: which pattern, where, and how late. Undefined without
 * a press: silence is judged elsewhere.
 */
export const assess = (watches: readonly Watch[], unknowns: Unknowns = UNKNOWN): Assessment | undefined => {
  if (watches.every(({ presses }) => presses.length === 0)) return undefined;
  const beliefs = beliefsOf(watches, unknowns);
  const about = beliefs.find(({ pattern }) => pattern.kind === "position")?.place;
  const spots = about ? spotsOf(watches, about.at, unknowns) : [];
  return { watches, beliefs, settled: settledIn(beliefs, watches), spots, place: foundPlace(spots) };
};

/** The place to go back to and between which values it lies, as exactly as it is known; undefined where the settled pattern has none. */
export const whereabouts = ({ settled, place }: Assessment): Spread | undefined => {
  if (settled?.pattern.kind !== "position" || !place) return settled?.place;
  const { low, high } = place.interval ?? settled.place ?? { low: place.at, high: place.at };
  return { at: place.at, low, high };
};

/** Below this belief it is not settled. */
const ENOUGH: Probability = 0.95;

/**
 * The pattern believed in enough to act on; undefined where that cannot be said yet. Full sweeps alone
 * cannot tell an end from one direction close to it or from the turning round itself, however often they are
 * played: that takes a sweep that stops short.
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

/**
 * The symptoms that a settled pattern is for the fault model, as far as this mechanism can show them. Turning round says play,
 * not a place, and has no symptom of its own.
 */
export const patternSymptoms = (
  { pattern, place }: PatternBelief,
  travel: Travel,
  mechanism: MechanismId,
): readonly SymptomId[] => {
  const symptom = symptomOf(pattern.kind, place !== undefined && liesAtAnEnd(travel, place));
  const on: readonly MechanismId[] | "fixture" = symptom === undefined ? [] : SYMPTOMS[symptom].on;
  return symptom !== undefined && on.includes(mechanism) ? [symptom] : [];
};

/** One direction close to an end is how a stop shows itself. */
const symptomOf = (kind: PatternBelief["pattern"]["kind"], atAnEnd: boolean): SymptomId | undefined => {
  switch (kind) {
    case "position":
      return "at-one-place";
    case "one-way":
      return atAnEnd ? "near-an-end" : "one-way-only";
    case "low-end":
    case "high-end":
    case "both-ends":
      return "near-an-end";
    case "no-place":
      return "at-no-place";
    case "turn-rounds":
      return undefined;
  }
};

/** All of it within the outer twentieth of the travel. */
const liesAtAnEnd = ({ from, to }: Travel, { low, high }: Spread): boolean => {
  const [near, far] = [low, high].map((place) => (place - from) / (to - from));
  return Math.max(near ?? 0, far ?? 0) <= 0.05 || Math.min(near ?? 1, far ?? 1) >= 0.95;
};
