import type { CoverId } from "../../domain/trade/covers.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { Probability } from "../../domain/units.ts";
import { evidenceFrom, type Weighed } from "./evidence.ts";
import { infer, inferNone } from "./infer.ts";
import { type FaultId, type KnownFault, knownFault } from "./knowledge/faults.ts";
import { type Fitted, mechanismsOf } from "./network.ts";
import type { InspectionAnswer, Observation } from "./observation.ts";
import { allReported, type Reasons, reasonsOf } from "./reasons.ts";
import { type Learned, NOTHING_LEARNED } from "./shop.ts";
import { fewEnough } from "./telling.ts";
import { type Warning, warningsOf } from "./warnings.ts";

/** What may be wrong, most probable first; "nothing broken" has its place among the rest. */
export interface Ranking {
  readonly nothingBroken: Probability;
  readonly faults: readonly Ranked[];
  /** Dangers to people whose look by hand is still due: never left out, whatever else is more likely. */
  readonly warnings: readonly Warning[];
  /** Reported symptoms beyond what can be reckoned together, the least telling ones, in words. Nearly always empty. */
  readonly leftOut: readonly string[];
}

export type Ranked = RankedFault | NothingBroken;

interface Belief {
  readonly title: string;
  /** 0 to 1, exact for the model; shown on request only. */
  readonly probability: Probability;
  readonly belief: "most likely" | "likely" | "possible";
  /** What speaks for it and against it, in plain words. */
  readonly because: readonly string[];
  readonly against: readonly string[];
}

export interface RankedFault extends Belief {
  readonly kind: "fault";
  readonly id: FaultId;
  readonly mechanism: MechanismId;
  readonly cover: CoverId;
  readonly module: string;
  readonly part: string;
  readonly tool: string;
  /** To mend, beyond opening the cover. */
  readonly minutes: number;
  readonly remedy: string;
  /** Mechanisms to be tested again after the mending. */
  readonly retest: readonly MechanismId[];
}

export interface NothingBroken extends Belief {
  readonly kind: "nothing-broken";
  readonly id: "nothing-broken";
}

/** All faults this fixture can have, in the light of what was watched and looked at. */
export function rank(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[] = [],
  learned: Learned = NOTHING_LEARNED,
): Ranking {
  const { weighed, leftOut } = fewEnough(evidenceFrom(fitted, observations, answers, learned));
  const { posteriors } = infer(weighed.network, weighed.evidence);
  const nothingBroken = inferNone(weighed.network, weighed.evidence);
  const faults = [...reasonsOf(weighed)].map(([id, reasons]) =>
    rankedFault(knownFault(id), posteriors[id] ?? 0, reasons, fitted),
  );
  return {
    nothingBroken,
    faults: [nothing(nothingBroken, weighed), ...faults].sort((a, b) => b.probability - a.probability),
    warnings: warningsOf(fitted, answers, posteriors),
    leftOut,
  };
}

const rankedFault = (
  fault: KnownFault,
  probability: Probability,
  reasons: Reasons,
  fitted: readonly Fitted[],
): RankedFault => ({
  kind: "fault",
  id: fault.id,
  title: fault.title,
  mechanism: fault.mechanism,
  probability,
  belief: beliefOf(probability),
  ...reasons,
  cover: fault.cover,
  module: fault.module,
  part: fault.part,
  tool: fault.tool,
  minutes: fault.minutes,
  remedy: fault.remedy,
  retest: retestOf(fault, fitted),
});

const nothing = (probability: Probability, weighed: Weighed): NothingBroken => ({
  kind: "nothing-broken",
  id: "nothing-broken",
  title: "nothing broken",
  probability,
  belief: beliefOf(probability),
  because: weighed.evidence.present.length === 0 ? ["nothing was reported"] : [],
  against: allReported(weighed),
});

/** Only what this fixture has can be tested again. */
function retestOf({ retest }: KnownFault, fitted: readonly Fitted[]): readonly MechanismId[] {
  const mechanisms = [...mechanismsOf(fitted)];
  return retest === "everything" ? mechanisms : mechanisms.filter((id) => retest.includes(id));
}

const beliefOf = (probability: Probability): Belief["belief"] =>
  probability >= 0.5 ? "most likely" : probability >= 0.15 ? "likely" : "possible";
