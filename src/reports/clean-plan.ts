import {
  CLEANING_CAUTIONS,
  type CleaningId,
  cleaning,
  cleaningsOf,
  GRIME,
  type GrimeId,
} from "../domain/trade/cleanings.ts";
import { COVERS, type CoverId, coverWords } from "../domain/trade/covers.ts";
import type { MechanismId } from "../domain/trade/mechanisms.ts";

/** What it takes to clean some fixtures of one kind: common practice, no source; the fluid's data sheet and local rules go first. */
export interface CleanPlan {
  readonly what: string;
  readonly fixtures: number;
  readonly grime: GrimeId;
  /** In the order of work, for one fixture. */
  readonly steps: readonly CleanStep[];
  /** For all of them together. Half pads are cut from whole ones; both sides of a pad are used. */
  readonly pads: number;
  readonly minutes: number;
}

export interface CleanStep {
  readonly cleaning: CleaningId;
  readonly what: string;
  readonly pads: number;
  readonly wetWith: string;
  readonly minutes: number;
  readonly how: string;
}

/** More grime takes more pads, and so more time at each place. */
export const cleanPlanFor = (
  what: string,
  fitted: ReadonlySet<MechanismId>,
  fixtures: number,
  grime: GrimeId,
): CleanPlan => {
  const steps = cleaningsOf(fitted).map((id) => stepFor(id, grime));
  return {
    what,
    fixtures,
    grime,
    steps,
    pads: Math.ceil(fixtures * sum(steps.map(({ pads }) => pads))),
    minutes:
      fixtures *
      (sum(steps.map(({ minutes }) => minutes)) + opening(steps.map(({ cleaning: id }) => cleaning(id).cover))),
  };
};

const stepFor = (id: CleaningId, grime: GrimeId): CleanStep => {
  const { what, pads, wetWith, minutes, how } = cleaning(id);
  const { padsTimes } = GRIME[grime];
  return {
    cleaning: id,
    what,
    pads: halves(pads * padsTimes),
    wetWith,
    minutes: Math.round(minutes * Math.max(1, padsTimes)),
    how: grime === "pyrotechnic" && pads > 0 ? `${how}; no rubbing, it scratches` : how,
  };
};

/** A pad may be cut in half, no smaller. */
const halves = (pads: number): number => Math.ceil(pads * 2) / 2;
const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);

/** Every cover is opened once. */
const opening = (covers: readonly CoverId[]): number => sum([...new Set(covers)].map((cover) => COVERS[cover].minutes));

/** Minutes and pads of a batch, the order of work, and the cautions. */
export const cleanPlanInWords = (plans: readonly CleanPlan[]): readonly string[] => [
  ...plans.flatMap((plan) => ["", ...planInWords(plan)]).slice(1),
  ...(plans.length > 1
    ? [
        "",
        `Together: ${padsOf(sum(plans.map(({ pads }) => pads)))}, about ${sum(plans.map(({ minutes }) => minutes))} min.`,
      ]
    : []),
  "",
  "Pads are lint-free sterile gauze; both sides are used; a pad of one place never goes to another.",
  ...CLEANING_CAUTIONS.map((words) => `! ${words}`),
  "! power isolated and locked off, stored charge as the maker's manual says, cool, before any cover comes off",
];

const planInWords = ({ what, fixtures, grime, steps, pads, minutes }: CleanPlan): readonly string[] => [
  `${fixtures} x ${what}, grime ${GRIME[grime].words}: ${padsOf(pads)}, about ${minutes} min`,
  ...steps.flatMap((step, at) => [
    `  ${at + 1}  ${step.what} (${coverWords(cleaning(step.cleaning).cover)}): ${step.pads === 0 ? "no pad" : `${padsOf(step.pads)}, ${step.wetWith}`}, ${step.minutes} min`,
    `     ${step.how}`,
  ]),
];

const padsOf = (pads: number): string => (pads === 0.5 ? "half a pad" : `${pads} ${pads === 1 ? "pad" : "pads"}`);
