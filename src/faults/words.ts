import { functionWords } from "../trade/functions.ts";
import { type InspectionId, inspection } from "../trade/inspections.ts";
import { MECHANISMS, type MechanismId } from "../trade/mechanisms.ts";
import { type SymptomId, symptomWords } from "../trade/symptoms.ts";
import type { Place } from "./places.ts";
import type { Reported } from "./reports.ts";

/** "cyan sticks on the way"; "iris: opening is not round". */
export function sayReport({ place, symptom, sources }: Pick<Reported, "place" | "symptom" | "sources">): string {
  const functions = [...new Set(sources.flatMap(({ report }) => (report.function ? [report.function] : [])))];
  const named = functions.map(functionWords);
  const who = named.length > 0 ? named : place === "fixture" ? [] : [MECHANISMS[place]];
  return withSubject(who.join(", "), symptom, who.length);
}

export const sayUnnamed = (place: Place): string =>
  place === "fixture" ? "something was wrong, nobody said what" : `${MECHANISMS[place]}: wrong, nobody said how`;

/** "not seen on the iris: opening is not round". */
export const sayMissing = (place: Place, symptom: SymptomId): string =>
  place === "fixture"
    ? `not noticed: ${symptomWords(symptom)}`
    : `not noticed on ${placeWords(place)}: ${symptomWords(symptom)}`;

/** "pan belt edges: frayed, or rubber dust below". */
export const sayLook = (id: InspectionId, answer: "good" | "bad" | "unsure"): string =>
  answer === "unsure" ? `${inspection(id).look}: not sure` : `${inspection(id).look}: ${inspection(id)[answer]}`;

const placeWords = (place: MechanismId): string => MECHANISMS[place];

/** Words that are a whole sentence already and do not take a function for their subject. */
const SENTENCES: ReadonlySet<SymptomId> = new Set([
  "wobbles",
  "gobos-differ",
  "not-round",
  "leaks-light",
  "patchy",
  "wrong-shade",
  "late-flag",
  "crooked",
  "colour-dead",
  "dim",
  "tinted",
  "veil",
  "shadow",
  "flickers",
  "cuts-out",
  "display-dark",
  "fan-still",
  "nothing-moves",
  "wrong-thing",
  "short-range",
  "at-angle",
  "several-at-once",
  "head-shakes",
  "something-else-moved",
  "error-shown",
  "light-out",
  "went-dead",
  "fan-loud",
  "dimmer-steps",
]);

function withSubject(who: string, symptom: SymptomId, count: number): string {
  if (who === "") return symptomWords(symptom);
  return SENTENCES.has(symptom) || count > 1 ? `${who}: ${symptomWords(symptom)}` : `${who} ${symptomWords(symptom)}`;
}
