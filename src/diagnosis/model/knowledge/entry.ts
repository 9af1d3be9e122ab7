import { entriesOf, recordFrom } from "../../../domain/keys.ts";
import type { CoverId } from "../../../domain/trade/hold-points.ts";
import type { InspectionId } from "../../../domain/trade/inspections.ts";
import type { MechanismId } from "../../../domain/trade/mechanisms.ts";
import type { Probability } from "../../../domain/units.ts";
import type { EffectId } from "./effects.ts";

/**
 * What a fault is called, how common it is, what it does to the fixture, and how it is repaired. A key that is no effect,
 * mechanism or inspection of the trade's lists does not compile.
 */
export interface FaultEntry {
  readonly title: string;
  /** How often a fixture that comes back has it. */
  readonly prior: Probability;
  readonly when: Condition;
  /** Its effects; each happens or not, independently of the others. */
  readonly does: readonly FaultEffect[];
  /** How often the inspection tells it. */
  readonly found: FoundByHand;
  readonly cover: CoverId;
  readonly module: string;
  readonly part: string;
  readonly tool: string;
  /** How long the repair takes, without opening the cover. */
  readonly minutes: number;
  readonly remedy: string;
  /** What the repair disturbs and must be tested again. */
  readonly retest: readonly MechanismId[] | "everything";
  readonly danger: DangerWord;
}

type FoundByHand = Readonly<Partial<Record<InspectionId, Probability>>>;

/** An effect of a fault: how often the fault has it strongly enough to be noticed, and why. */
export interface FaultEffect {
  readonly effect: EffectId;
  readonly on: Reach;
  readonly often: Probability;
  readonly because: string;
}

/**
 * `here`: on the fault's own mechanism, and where that has several copies (three flags, four blades) on one of them;
 * `fixture`: on the fixture as a whole; `one`: on one moving mechanism, nobody knows which; `each`: on every moving
 * mechanism, each for itself; `ring`: on the ring that turns all framing blades; `board`: on what hangs on one plug: a motor, a board or the whole head; `loom`: the same
 * of a wire through the yoke, which feeds neither pan nor tilt with the head; or on one mechanism.
 */
export type Reach = "ring" | "here" | "fixture" | "one" | "each" | "board" | "loom" | MechanismId;

/**
 * A row of a fault: what it does, how often and where.
 *
 * @param often - 0 to 1, strongly enough to be noticed
 * @param on - its own mechanism where nothing else is said
 */
export const does = (effect: EffectId, often: Probability, because: string, on: Reach = "here"): FaultEffect => ({
  effect,
  on,
  often,
  because,
});

/**
 * When a fault shows: the rest of the time it shows seldom. Weighed: when the weight of a part acts along its way; loaded:
 * when the supply has much to give; hurried: at full speed; turned: when yoke and head bend the wires.
 */
export type Condition =
  | "always"
  | "warm"
  | "cold"
  | "shaken"
  | "hung"
  | "now-and-then"
  | "weighed"
  | "loaded"
  | "hurried"
  | "turned";

/** Out of service: never signed off without its repair, whatever else passes. */
type DangerWord = "none" | "out of service";

/** All that is known of one mechanism, and where the numbers come from: a published source, or judgement. */
export interface Knowledge<Id extends string = string> {
  readonly origin: string;
  readonly faults: Readonly<Record<Id, FaultEntry>>;
}

export const STARTER = "starter value, judgement";

/** The faults of one of several like mechanisms, each id with its name in front. */
export const namedFaults = <Name extends string, Id extends string>(
  name: Name,
  faults: Readonly<Record<Id, FaultEntry>>,
): Readonly<Record<`${Name}-${Id}`, FaultEntry>> =>
  recordFrom(entriesOf(faults).map(([id, fault]) => [`${name}-${id}` as const, fault] as const));
