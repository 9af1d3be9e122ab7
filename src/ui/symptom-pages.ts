import { fittedOf } from "../data/profile/profile.ts";
import { chanceOf } from "../diagnosis/model/chances.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import { type MechanismId, mechanismOf } from "../domain/trade/mechanisms.ts";
import type { RoutineId } from "../domain/trade/routines.ts";
import { FIXTURE_SYMPTOMS, SYMPTOM_IDS, type SymptomId, symptomsOf, symptomWords } from "../domain/trade/symptoms.ts";
import type { ReportedSymptom } from "../run/events/event.ts";
import { type Job, stepAt } from "../run/session/job.ts";

/** A short list of symptoms, one digit each from 1; `about` is the function that they are reported of, undefined for the fixture as a whole. */
export interface SymptomPage {
  readonly about: FunctionId | undefined;
  readonly symptoms: readonly SymptomId[];
}

/** How many lines a page of symptoms has: one digit each. */
export const MOST = 9;

/**
 * What a symptom of this step can be told of: its functions, or the whole fixture (undefined) and then each of its
 * functions. `index` is the step's place in the run, from 0.
 */
export const aboutsOf = (job: Job, index: number): readonly (FunctionId | undefined)[] => {
  const { functions } = stepAt(job, index);
  return functions.length > 0 ? functions : [undefined, ...job.timeline.profile.functions.keys()];
};

/**
 * The lists to leaf through with 0: the commonest of this function in such a step, the fixture as a whole, then what is
 * rare. `index` is the step's place in the run, from 0.
 */
export const pagesOf = (job: Job, index: number, about: FunctionId | undefined): readonly SymptomPage[] => {
  const { routine } = stepAt(job, index);
  const own = about === undefined ? wholeSymptoms() : symptomsOf(mechanismIn(job, about));
  const commonest = likeliest(own, routine);
  const rare = own.filter((id) => !commonest.includes(id));
  return [
    { about, symptoms: commonest },
    { about: undefined, symptoms: FIXTURE_SYMPTOMS },
    ...inNines(rare).map((symptoms) => ({ about, symptoms })),
  ];
};

const mechanismIn = (job: Job, id: FunctionId): MechanismId =>
  fittedOf(job.timeline.profile).find((one) => one.function === id)?.mechanism ?? mechanismOf(id, undefined);

/** What shows when the fixture is watched as a whole and belongs to no moving part. */
const WHOLE: readonly MechanismId[] = [
  "control",
  "power-supply",
  "light-engine",
  "cooling",
  "optics",
  "yoke-loom",
  "chassis",
];
const wholeSymptoms = (): readonly SymptomId[] => {
  const all = new Set(WHOLE.flatMap(symptomsOf));
  return SYMPTOM_IDS.filter((id) => all.has(id));
};

/** How fast a report grows rarer down the list of a mechanism, which stands commonest first: judgement. */
const RARER = 0.06;

/** The nine that this routine is likeliest to show, in the usual order, so that a digit mostly means the same. */
const likeliest = (own: readonly SymptomId[], routine: RoutineId): readonly SymptomId[] => {
  const weighed = own.map((id, rank) => ({ id, rank, weight: chanceOf(id, routine) / (1 + RARER * rank) }));
  const chosen = weighed.toSorted((a, b) => b.weight - a.weight || a.rank - b.rank).slice(0, MOST);
  return own.filter((id) => chosen.some((one) => one.id === id));
};

const inNines = (symptoms: readonly SymptomId[]): readonly (readonly SymptomId[])[] =>
  Array.from({ length: Math.ceil(symptoms.length / MOST) }, (_, page) =>
    symptoms.slice(page * MOST, (page + 1) * MOST),
  );

/** What a digit on a page reports, from 1; undefined for a `digit` without a line. */
export const symptomAt = ({ about, symptoms }: SymptomPage, digit: number): ReportedSymptom | undefined => {
  const symptom = symptoms[digit - 1];
  if (symptom === undefined) return undefined;
  return about === undefined ? { symptom } : { symptom, function: about };
};

/** A symptom with its function, in words: "pan jerks or hesitates", "error on the display". */
export const symptomInWords = ({ symptom, function: id }: ReportedSymptom): string =>
  id === undefined ? symptomWords(symptom) : `${functionWords(id)} ${symptomWords(symptom)}`;

/** What a symptom is told of, in words: a function, or the fixture as a whole. */
export const aboutInWords = (about: FunctionId | undefined): string =>
  about === undefined ? "the fixture as a whole" : functionWords(about);
