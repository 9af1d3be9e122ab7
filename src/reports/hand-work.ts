import type { HandWork, Sequence } from "../data/sequence/sequence.ts";
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
import { COVERS, type CoverId, coverWords, type HoldPointId, holdPointWords } from "../domain/trade/hold-points.ts";
import { alwaysDue, type InspectionId, inspection } from "../domain/trade/inspections.ts";
import type { MechanismId } from "../domain/trade/mechanisms.ts";
import { READINGS } from "../domain/trade/readings.ts";

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

/** What the work by hand of a sequence takes on a fixture in which nothing is wrong, in minutes. Common practice, no source. */
interface HandMinutes {
  readonly inspecting: number;
  /** Off and on again, each cover once. */
  readonly covers: number;
  readonly cleaning: number;
  readonly measuring: number;
  /** Isolating, proving dead, and everything else that is confirmed. */
  readonly confirming: number;
}

/**
 * How many minutes by hand a sequence takes on a fixture with these mechanisms and this much dirt, kind of work by kind of
 * work. Work behind one cover pays for the cover once.
 */
export const handMinutes = (
  { byHand }: Pick<Sequence, "byHand">,
  fitted: ReadonlySet<MechanismId>,
  dirt: DirtId,
): HandMinutes => {
  const work = byHand.map((step) => step.work);
  const measured = work.flatMap((one) => (one.kind === "reading" ? [one.reading] : []));
  const looks = new Set(work.flatMap((one) => looksIn(one, fitted)));
  // The earth is measured where the sequence says so.
  if (measured.includes("earth-continuity")) looks.delete("earth-continuity");
  // The hours are read once, in the same menu.
  if (measured.includes("source-hours")) looks.delete("menu-hours");
  const places = new Set(
    work.flatMap((one) =>
      one.kind === "clean"
        ? cleaningsDue(fitted, dirt, () => false).filter((id) => one.what === "due" || one.what.includes(id))
        : [],
    ),
  );
  const covers = [...[...looks].map((id) => inspection(id).cover), ...[...places].map((id) => cleaning(id).cover)];
  return {
    inspecting: sum([...looks].map((id) => inspection(id).minutes)),
    covers: opening(covers),
    cleaning: sum([...places].map((id) => effortOf(id, dirt).minutes)),
    measuring: sum(measured.map((id) => READINGS[id].minutes)),
    confirming: sum(work.flatMap((one) => (one.kind === "hold-point" ? one.points.map(minutesOf) : []))),
  };
};

const looksIn = (work: HandWork, fitted: ReadonlySet<MechanismId>): readonly InspectionId[] => {
  if (work.kind !== "inspect") return [];
  if (typeof work.looks !== "string") return work.looks.filter((id) => fitted.has(inspection(id).on));
  const due = alwaysDue(fitted);
  return work.looks === "outside" ? due.filter((id) => inspection(id).cover === "outside") : due;
};

/** Locking off and proving dead takes a tester and a walk; the others are a look. */
const minutesOf = (point: HoldPointId): number => (point === "isolated" ? 2 : 0.2);

/** All minutes by hand together. */
export const allOf = ({ inspecting, covers, cleaning: clean, measuring, confirming }: HandMinutes): number =>
  inspecting + covers + clean + measuring + confirming;

/**
 * What is to be known before a technician begins: how long the driven part takes, the part by hand, and what runs without
 * anybody. `total` and `watched` are how long the driven part lasts and how much of that is watched, in seconds.
 */
export const minutesInWords = (
  { total, watched }: { readonly total: number; readonly watched: number },
  ordinary: HandMinutes,
  dustOnly: HandMinutes,
): readonly string[] => {
  const [all, less] = [allOf(ordinary), allOf(dustOnly)];
  if (all === 0) return [];
  const soak = (total - watched) / 60;
  const parts = [
    ["inspecting", ordinary.inspecting],
    ["covers", ordinary.covers],
    ["cleaning", ordinary.cleaning],
    ["measuring", ordinary.measuring],
    ["confirming", ordinary.confirming],
  ] as const;
  return [
    `By hand about ${round(all)} min: ${parts.flatMap(([name, minutes]) => (minutes > 0 ? [`${name} ${round(minutes)}`] : [])).join(", ")}; about ${round(less)} min when it came back with dust only.`,
    `In all about ${round(total / 60 + all)} min, ${round(total / 60 + less)} with dust only.${soak > 0 ? ` ${round(soak)} min of it nobody stands by: time for paper work, so your own time is ${round(watched / 60 + all)}, ${round(watched / 60 + less)} with dust only.` : ""}`,
    "Cooling down and stored charge come on top, as the maker's manual says; so does whatever is wrong with it.",
  ];
};

const round = (minutes: number): number => Math.max(1, Math.round(minutes));

/** What a step of a sequence asks to be done by hand, in words. */
export const handWorkInWords = (work: HandWork): string => {
  switch (work.kind) {
    case "hold-point":
      return `hold point: ${work.points.map(holdPointWords).join("; ")}`;
    case "inspect":
      return `inspect: ${typeof work.looks === "string" ? LOOKS[work.looks] : work.looks.map((id) => inspection(id).look).join("; ")}`;
    case "clean":
      return `clean: ${work.what === "due" ? "all that is fitted" : work.what.map((id) => cleaning(id).what).join("; ")}`;
    case "reading":
      return `measure: ${READINGS[work.reading].words}`;
    default:
      return work satisfies never;
  }
};

const LOOKS = {
  outside: "all that is due from outside; a bad answer blocks power",
  due: "all that is due at every check-in",
  proposed: "what the faults seen so far propose, then all that is due at every check-in",
} as const;
