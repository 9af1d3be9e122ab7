import type { ReportedSymptom } from "../events/event.ts";
import { grouped } from "../events/grouped.ts";
import type { RunSummary } from "../events/summary.ts";

/** A symptom and the runs in which it was seen, oldest first. */
export interface SymptomPast extends ReportedSymptom {
  readonly runs: readonly string[];
}

/** How often each symptom was seen, the commonest first; of equals the one that was seen first. */
export const symptomsIn = (runs: readonly RunSummary[]): readonly SymptomPast[] => {
  const seen = runs.flatMap(({ run, steps }) =>
    steps.flatMap(({ symptoms }) => symptoms).map((symptom) => ({ symptom, run })),
  );
  return grouped(seen, ({ symptom }) => keyOf(symptom))
    .map((sightings) => ({ ...sightings[0].symptom, runs: [...new Set(sightings.map(({ run }) => run))] }))
    .sort((a, b) => b.runs.length - a.runs.length);
};

/** One text for a symptom of a function: "Pan/slow"; "fixture/smells-burnt" for the fixture as a whole. */
export const keyOf = ({ symptom, function: id }: ReportedSymptom): string => `${id ?? "fixture"}/${symptom}`;
