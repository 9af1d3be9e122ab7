import { fittedOf } from "../profile/profile.ts";
import type { ReportedSymptom } from "../record/event.ts";
import { type Job, stepAt } from "../session/job.ts";
import { type FunctionId, functionWords } from "../trade/functions.ts";
import { type MechanismId, mechanismOf } from "../trade/mechanisms.ts";
import type { RoutineId } from "../trade/routines.ts";
import { FIXTURE_SYMPTOMS, type SymptomId, symptomsOf, symptomWords } from "../trade/symptoms.ts";

/** A short list of symptoms, one digit each from 1; `about` is the function that they are reported of, undefined for the fixture as a whole. */
export interface SymptomPage {
  readonly about: FunctionId | undefined;
  readonly symptoms: readonly SymptomId[];
}

/** One digit each. */
const MOST = 9;

/** Of what a symptom of this step can be told: its functions, or the whole fixture and then each of its functions. */
export const aboutsOf = (job: Job, index: number): readonly (FunctionId | undefined)[] => {
  const { functions } = stepAt(job, index);
  return functions.length > 0 ? functions : [undefined, ...job.timeline.profile.functions.keys()];
};

/** The lists to leaf through with 0: the commonest of this function, the fixture as a whole, then what is rare. */
export const pagesOf = (job: Job, index: number, about: FunctionId | undefined): readonly SymptomPage[] => {
  const own = about === undefined ? wholeSymptoms(stepAt(job, index).routine) : symptomsOf(mechanismIn(job, about));
  const [commonest = [], ...rare] = inNines(own.filter((id) => !FIXTURE_SYMPTOMS.includes(id)));
  return [
    { about, symptoms: commonest },
    { about: undefined, symptoms: FIXTURE_SYMPTOMS },
    ...rare.map((symptoms) => ({ about, symptoms })),
  ];
};

const mechanismIn = (job: Job, id: FunctionId): MechanismId =>
  fittedOf(job.timeline.profile).find((one) => one.function === id)?.mechanism ?? mechanismOf(id, undefined);

/** Which assemblies show themselves when the fixture is watched as a whole: judgement. */
const WHOLE: Partial<Record<RoutineId, readonly MechanismId[]>> = {
  identify: ["control"],
  "power-up": ["light-engine", "power-supply", "control", "cooling"],
};
const OTHERWISE: readonly MechanismId[] = ["control", "power-supply", "light-engine", "cooling"];

const wholeSymptoms = (routine: RoutineId): readonly SymptomId[] => {
  const lists = (WHOLE[routine] ?? OTHERWISE).map((mechanism) => symptomsOf(mechanism).toSorted(noMovers));
  return [...new Set(lists.flat())];
};
/** "Moves the other way round" and its like are told of an axis; here they come last. */
const noMovers = (a: SymptomId, b: SymptomId): number => Number(ofAxes(a)) - Number(ofAxes(b));
const ofAxes = (id: SymptomId): boolean => symptomsOf("pan-drive").includes(id);

const inNines = (symptoms: readonly SymptomId[]): readonly (readonly SymptomId[])[] =>
  Array.from({ length: Math.ceil(symptoms.length / MOST) }, (_, page) =>
    symptoms.slice(page * MOST, (page + 1) * MOST),
  );

/** What a digit on a page reports; undefined for a digit without a line. */
export const symptomAt = ({ about, symptoms }: SymptomPage, digit: number): ReportedSymptom | undefined => {
  const symptom = symptoms[digit - 1];
  if (symptom === undefined) return undefined;
  return about === undefined ? { symptom } : { symptom, function: about };
};

/** "pan jerks or hesitates", "error on the display". */
export const symptomInWords = ({ symptom, function: id }: ReportedSymptom): string =>
  id === undefined ? symptomWords(symptom) : `${functionWords(id)} ${symptomWords(symptom)}`;

export const aboutInWords = (about: FunctionId | undefined): string =>
  about === undefined ? "the fixture as a whole" : functionWords(about);
