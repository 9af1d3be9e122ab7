import type { CoverId } from "../../../domain/trade/covers.ts";
import type { InspectionId } from "../../../domain/trade/inspections.ts";
import type { MechanismId } from "../../../domain/trade/mechanisms.ts";
import type { SymptomId } from "../../../domain/trade/symptoms.ts";
import type { Probability } from "../../../domain/units.ts";

/**
 * What a fault is called, how common it is, how it shows, and how it is mended. A key that is no symptom, mechanism or
 * inspection of the trade's lists does not compile.
 */
export interface FaultEntry {
  readonly title: string;
  /** How often a fixture that comes back has it. */
  readonly prior: Probability;
  readonly when: Condition;
  /** How often it brings the symptom about in a thorough test. */
  readonly shows: Readonly<Partial<Record<SymptomKey, Probability>>>;
  /** How often the look by hand tells it. */
  readonly found: Readonly<Partial<Record<InspectionId, Probability>>>;
  readonly cover: CoverId;
  readonly module: string;
  readonly part: string;
  readonly tool: string;
  /** To mend, beyond opening the cover. */
  readonly minutes: number;
  readonly remedy: string;
  /** What the mending disturbs and must be tested again. */
  readonly retest: readonly MechanismId[] | "everything";
  readonly danger: Danger;
}

/** When a fault shows: the rest of the time it shows seldom. */
export type Condition = "always" | "warm" | "cold" | "shaken" | "hung" | "now-and-then";

/** Out of service: never signed back without its repair, whatever else passes. */
export type Danger = "none" | "out of service";

/**
 * Where a symptom shows: bare on the fault's own mechanism; with a place elsewhere; `any` on each moving mechanism alike;
 * `one` on a single one of them, nobody knows which.
 */
export type SymptomKey = SymptomId | `${MechanismId | "fixture" | "any" | "one"}/${SymptomId}`;

/** All that is known of one mechanism, and where the numbers come from: a published source, or judgement. */
export interface Knowledge {
  readonly origin: string;
  readonly faults: Readonly<Record<string, FaultEntry>>;
}

export const STARTER = "starter value, judgement";
