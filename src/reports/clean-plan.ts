import {
  CLEANING_CAUTIONS,
  type CleaningId,
  cleaning,
  cleaningsDue,
  DIRT,
  type DirtId,
  effortOf,
  PAD_RULES,
} from "../domain/trade/cleanings.ts";
import { COVERS, type CoverId, coverWords } from "../domain/trade/hold-points.ts";
import type { MechanismId } from "../domain/trade/mechanisms.ts";

/** What it takes to clean some fixtures of one kind: common practice, no source; the fluid's data sheet and local rules go first. */
export interface CleanPlan {
  readonly what: string;
  readonly fixtures: number;
  readonly dirt: DirtId;
  /** In the order of work, for one fixture. */
  readonly steps: readonly CleanStep[];
  /** For all of them together. Half pads are cut from whole ones; both sides of a pad are used. */
  readonly pads: number;
  readonly minutes: number;
}

interface CleanStep {
  readonly cleaning: CleaningId;
  readonly what: string;
  readonly pads: number;
  readonly wetWith: string;
  readonly minutes: number;
  readonly how: string;
}

/**
 * What to clean on a batch, with the minutes and pads it takes. More dirt takes more pads, and so more time at each place;
 * with dust only, glass is taken to be clean until the torch says otherwise. `fixtures` is how many there are, at least 1.
 */
export const cleanPlanFor = (
  what: string,
  fitted: ReadonlySet<MechanismId>,
  fixtures: number,
  dirt: DirtId,
): CleanPlan => {
  const steps = cleaningsDue(fitted, dirt, () => false).map((id) => stepFor(id, dirt));
  return {
    what,
    fixtures,
    dirt,
    steps,
    pads: Math.ceil(fixtures * sum(steps.map(({ pads }) => pads))),
    minutes:
      fixtures *
      (sum(steps.map(({ minutes }) => minutes)) + opening(steps.map(({ cleaning: id }) => cleaning(id).cover))),
  };
};

const stepFor = (id: CleaningId, dirt: DirtId): CleanStep => {
  const { what, wetWith, how } = cleaning(id);
  const { pads, minutes } = effortOf(id, dirt);
  const { said } = DIRT[dirt];
  return { cleaning: id, what, pads, wetWith, minutes, how: pads > 0 && said !== "" ? `${how}; ${said}` : how };
};

const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);

/** Every cover is opened once. */
const opening = (covers: readonly CoverId[]): number => sum([...new Set(covers)].map((cover) => COVERS[cover].minutes));

/** Minutes and pads of a batch, the order of work, how pads are used, and the cautions. */
export const cleanPlanInWords = (plans: readonly CleanPlan[]): readonly string[] => [
  ...plans.flatMap((plan) => ["", ...planInWords(plan)]).slice(1),
  ...(plans.length > 1
    ? [
        "",
        `Together: ${padsInWords(sum(plans.map(({ pads }) => pads)))}, about ${sum(plans.map(({ minutes }) => minutes))} min.`,
      ]
    : []),
  "",
  ...PAD_RULES.map((words) => `Pads: ${words}.`),
  ...CLEANING_CAUTIONS.map((words) => `! ${words}`),
  "! power isolated and locked off, stored charge as the maker's manual says, cool, before any cover comes off",
];

const planInWords = ({ what, fixtures, dirt, steps, pads, minutes }: CleanPlan): readonly string[] => [
  `${fixtures} x ${what}, ${DIRT[dirt].words}: ${padsInWords(pads)}, about ${minutes} min`,
  ...steps.flatMap((step, at) => [
    `  ${at + 1}  ${step.what} (${coverWords(cleaning(step.cleaning).cover)}): ${step.pads === 0 ? "no pad" : `${padsInWords(step.pads)}, ${step.wetWith}`}, ${step.minutes} min`,
    `     ${step.how}`,
  ]),
];

/** A number of cleaning pads in words: "half a pad", "3 pads". `pads` is a multiple of a half, as they are counted. */
export const padsInWords = (pads: number): string =>
  pads === 0.5 ? "half a pad" : `${pads} ${pads === 1 ? "pad" : "pads"}`;
