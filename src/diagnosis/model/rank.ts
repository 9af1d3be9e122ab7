import type { CoverId } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { Probability } from "../../domain/units.ts";
import { type BeliefWord, type Claim, claimOf } from "./claims.ts";
import { evidenceFrom, fewEnough, type Weighed } from "./evidence.ts";
import { answering, infer, inferNone } from "./infer.ts";
import { bestLookAt, FAULTS, type FaultId, type KnownFault, knownFault } from "./knowledge/faults.ts";
import type { InspectionAnswer, Observation } from "./observation.ts";
import { type Fitted, mechanismsOf } from "./places.ts";
import { allReported, type Reasons, reasonsOf, sayFinding, unexplainedIn } from "./reasons.ts";
import { type Learned, NOTHING_LEARNED } from "./shop.ts";

/** What may be wrong, most probable first; "nothing broken" has its place among the rest. */
export interface Ranking {
  readonly nothingBroken: Probability;
  readonly faults: readonly Ranked[];
  /** Dangers to people whose inspection is still due: never left out, whatever else is more likely. */
  readonly warnings: readonly Warning[];
  /** Reported symptoms beyond what can be calculated together, the least telling ones, in words. Nearly always empty. */
  readonly leftOut: readonly string[];
  /** What was reported and no fault that is believed in explains, in words: something on no list may be behind it. */
  readonly unexplained: readonly string[];
}

export type Ranked = RankedFault | NothingBroken;

interface RankedAnswer {
  readonly title: string;
  /** That it is behind what was reported; where nothing was, that it is there. 0 to 1, exact for the model; shown on request only. */
  readonly probability: Probability;
  readonly belief: BeliefWord;
  /** How it may be put. */
  readonly claim: Claim;
  /** What speaks for it and against it, in plain words. */
  readonly because: readonly string[];
  readonly against: readonly string[];
}

export interface RankedFault extends RankedAnswer {
  readonly kind: "fault";
  readonly id: FaultId;
  readonly mechanism: MechanismId;
  readonly cover: CoverId;
  readonly module: string;
  readonly part: string;
  readonly tool: string;
  /** How long the repair takes, without opening the cover. */
  readonly minutes: number;
  readonly remedy: string;
  /** Mechanisms to be tested again after the repair. */
  readonly retest: readonly MechanismId[];
}

interface NothingBroken extends RankedAnswer {
  readonly kind: "nothing-broken";
  readonly id: "nothing-broken";
}

/** All faults this fixture can have, the likeliest first, in the light of what was watched and inspected. */
export function rank(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[] = [],
  learned: Learned = NOTHING_LEARNED,
): Ranking {
  const { weighed, leftOut } = fewEnough(evidenceFrom(fitted, observations, answers, learned));
  const belief = infer(weighed.network, weighed.evidence);
  const { posteriors } = belief;
  const likely = answering(belief, weighed.evidence);
  const nothingBroken = inferNone(weighed.network, weighed.evidence);
  const asked = (probability: Probability): AskedClaim => ({
    probability,
    claim: claimOf(probability, learned.temper),
  });
  const faults = [...reasonsOf(weighed)].map(([id, reasons]) =>
    rankedFault(knownFault(id), asked(likely[id] ?? 0), reasons, fitted),
  );
  return {
    nothingBroken,
    faults: [nothing(asked(nothingBroken), weighed, observations), ...faults].sort(
      (a, b) => b.probability - a.probability,
    ),
    warnings: warningsOf(fitted, answers, posteriors),
    leftOut: leftOut.map((id) => sayFinding(id, weighed)),
    unexplained: unexplainedIn(weighed, posteriors).map((id) => sayFinding(id, weighed)),
  };
}

type AskedClaim = Pick<RankedAnswer, "probability" | "claim">;

const rankedFault = (
  fault: KnownFault,
  { probability, claim }: AskedClaim,
  reasons: Reasons,
  fitted: readonly Fitted[],
): RankedFault => ({
  kind: "fault",
  id: fault.id,
  title: fault.title,
  mechanism: fault.mechanism,
  probability,
  belief: claim.words,
  claim,
  ...reasons,
  cover: fault.cover,
  module: fault.module,
  part: fault.part,
  tool: fault.tool,
  minutes: fault.minutes,
  remedy: fault.remedy,
  retest: retestOf(fault, fitted),
});

const nothing = (
  { probability, claim }: AskedClaim,
  weighed: Weighed,
  observations: readonly Observation[],
): NothingBroken => ({
  kind: "nothing-broken",
  id: "nothing-broken",
  title: "nothing broken",
  probability,
  belief: claim.words,
  claim,
  because: weighed.evidence.present.length === 0 ? [noReport(observations)] : [],
  against: allReported(weighed),
});

/** Whoever pressed did report something, whatever was answered afterwards. */
const noReport = (observations: readonly Observation[]): string => {
  const presses = observations.reduce((sum, one) => sum + (one.presses ?? 0), 0);
  if (presses === 0) return "nothing was reported";
  return `${presses === 1 ? "one press" : `${presses} presses`}, and no step counts as failed`;
};

/** Only what this fixture has can be tested again. */
function retestOf({ retest }: KnownFault, fitted: readonly Fitted[]): readonly MechanismId[] {
  const mechanisms = [...mechanismsOf(fitted)];
  return retest === "everything" ? mechanisms : mechanisms.filter((id) => retest.includes(id));
}

/** A danger to people that must be looked for, or was found. */
interface Warning {
  readonly id: FaultId;
  readonly title: string;
  readonly inspection: InspectionId;
  /** Due: not looked at yet, or without a clear answer. Found: out of service until repaired. */
  readonly state: "due" | "found";
  readonly say: string;
  readonly probability: Probability;
}

/** Every danger whose inspection is not yet answered "good". */
const warningsOf = (
  fitted: readonly Fitted[],
  answers: readonly InspectionAnswer[],
  posteriors: Readonly<Record<string, Probability>>,
): readonly Warning[] =>
  FAULTS.filter(({ mechanism, danger }) => danger === "out of service" && mechanismsOf(fitted).has(mechanism)).flatMap(
    (fault) => {
      const look = bestLookAt(fault);
      const answer = answers.findLast(({ inspection: id }) => id === look)?.answer;
      if (answer === "good") return [];
      const state = answer === "bad" ? "found" : "due";
      return [
        {
          id: fault.id,
          title: fault.title,
          inspection: look,
          state,
          say: say(fault, look, state),
          probability: posteriors[fault.id] ?? 0,
        },
      ];
    },
  );

const say = (fault: KnownFault, look: InspectionId, state: Warning["state"]): string =>
  state === "found"
    ? `OUT OF SERVICE: ${fault.title}; ${fault.remedy.replace(/^out of service; /, "")}`
    : `danger to people until inspected: ${inspection(look).look} (${fault.title}?)`;

/** Less than this is not worth a word. */
const NOTHING_TO_SPEAK_OF = 0.02;

/**
 * What the last answer did to the first place, in a sentence; where it changed nothing, why. `answer` is what gave it:
 * "the last test" or "the last inspection".
 */
export function sayChange(before: Ranking, after: Ranking, answer: string): string {
  const [was, is] = [before.faults[0], after.faults[0]];
  if (!was || !is) return "";
  if (was.id !== is.id) return `After ${answer} ${is.title} comes first, before that ${was.title}.`;
  const moved = is.probability - beliefIn(was, before);
  if (Math.abs(moved) < NOTHING_TO_SPEAK_OF)
    return `${capital(answer)} changed little: ${is.title} stays first, the other likely answers would have shown the same.`;
  return moved > 0
    ? `${capital(answer)} speaks for ${is.title}, which stays first.`
    : `${capital(answer)} speaks against ${is.title}, which still stays first: no other answer explains more.`;
}

const beliefIn = ({ id }: Ranked, { faults }: Ranking): number => faults.find((one) => one.id === id)?.probability ?? 0;
const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
