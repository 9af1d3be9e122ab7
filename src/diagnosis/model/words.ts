import { functionWords } from "../../domain/trade/functions.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { SYMPTOMS, type SymptomId, symptomWords } from "../../domain/trade/symptoms.ts";
import { belongsToMover, type Place } from "./places.ts";
import type { Reported } from "./reports.ts";

/** "cyan sticks on the way"; "iris: opening is not round"; "reset itself, while pan moved". */
export function sayReport({ finding: { place }, symptom, sources }: Reported): string {
  const functions = new Set(sources.flatMap(({ report }) => (report.function ? [report.function] : [])));
  const named = [...functions].map(functionWords);
  return place === "fixture" ? sayOfFixture(named, symptom) : sayOf(named.length > 0 ? named : [place.words], symptom);
}

function sayOfFixture(named: readonly string[], symptom: SymptomId): string {
  const words = symptomWords(symptom);
  if (SYMPTOMS[symptom].on === "fixture") return named.length > 0 ? `${words}, while ${named.join(", ")} moved` : words;
  if (SYMPTOMS[symptom].by === "light" && !belongsToMover(symptom)) return words;
  return named.length > 0 ? sayOf(named, symptom) : SENTENCES.has(symptom) ? words : `something ${words}`;
}

/** Something wrong at a place that nobody put a name to, in words. */
export const sayUnnamed = (place: Place): string =>
  place === "fixture" ? "something was wrong, not said what" : `${place.words}: wrong, nobody said how`;

/** "not seen on the iris: opening is not round". */
export const sayMissing = (place: Place, symptom: SymptomId): string =>
  place === "fixture"
    ? `not reported: ${symptomWords(symptom)}`
    : `not reported on the ${place.words}: ${symptomWords(symptom)}`;

/** "pan belt edges: frayed, or rubber dust below". */
export const sayLook = (id: InspectionId, answer: "good" | "bad" | "unsure" | "not-asked"): string =>
  answer === "good" || answer === "bad"
    ? `${inspection(id).look}: ${inspection(id)[answer]}`
    : `${inspection(id).look}: ${answer === "unsure" ? "not sure" : "not asked"}`;

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

/** "cyan sticks on the way", "iris: opening is not round". */
export const sayOf = (named: readonly string[], symptom: SymptomId): string =>
  SENTENCES.has(symptom) || named.length > 1
    ? `${named.join(", ")}: ${symptomWords(symptom)}`
    : `${named.join(", ")} ${symptomWords(symptom)}`;
