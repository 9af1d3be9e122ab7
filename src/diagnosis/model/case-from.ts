import type { Case } from "./case.ts";
import { evidenceFrom } from "./evidence.ts";
import type { FaultId } from "./knowledge/faults.ts";
import { type Fitted, mechanismsOf } from "./network.ts";
import { type InspectionAnswer, type Observation, withFunctions } from "./observation.ts";
import { conditionOf } from "./pattern.ts";
import { findingAt, findingsOf } from "./places.ts";
import { chancesOf, silenceOf } from "./silence.ts";

/** What came of the mending: which faults were there, which were looked for in vain, and whether all was tested after. */
export interface Outcome {
  readonly confirmed: readonly FaultId[];
  readonly cleared: readonly FaultId[];
  readonly rest: Case["rest"];
}

/** A case to learn from, of a fixture's run before the mending and what the mending showed. */
export function caseFrom(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[],
  { confirmed, cleared, rest }: Outcome,
): Case {
  const { evidence } = evidenceFrom(fitted, observations, answers);
  const places = new Map(
    findingsOf(mechanismsOf(fitted)).map(({ place, symptom }) => [
      findingAt(place, symptom) as string,
      { place, symptom },
    ]),
  );
  // Where it was reported nobody overlooked it for something else.
  const run = withFunctions(fitted, observations);
  const heeded = run.map((one) => (one.result === "fail" ? { ...one, result: "pass" as const } : one));
  const chances = (id: string, seen: boolean): Readonly<Record<string, number>> => {
    const at = places.get(id);
    if (!at) return {};
    const silence = silenceOf(chancesOf(fitted, seen ? heeded : run, at.place, at.symptom));
    return Object.fromEntries(confirmed.map((fault) => [fault, silence(conditionOf(fault)) || UNFORESEEN]));
  };
  const finding = (seen: boolean) => (id: string) => ({ id, seen, chance: chances(id, seen) });
  return {
    findings: [...evidence.present.map(finding(true)), ...evidence.absent.map(finding(false))],
    confirmed,
    cleared,
    rest,
  };
}

/** Reported in a step that was not thought able to show it. */
const UNFORESEEN = 0.5;
