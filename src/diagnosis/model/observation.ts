import type { FunctionId } from "../../domain/trade/functions.ts";
import type { InspectionId } from "../../domain/trade/inspections.ts";
import type { RoutineId, StepResult } from "../../domain/trade/routines.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Fitted } from "./places.ts";

/** What came of one attempt at one driven step. */
export interface Observation {
  readonly routine: RoutineId;
  /** What moved; empty when the fixture moved as a whole. */
  readonly functions: readonly Fitted[];
  readonly result: StepResult;
  readonly symptoms: readonly Report[];
  /** Attended: answered at this step. Confirmed: silence, confirmed afterwards by whoever was there. No: says nothing. */
  readonly watched: "attended" | "confirmed" | "no";
  /** Minutes since the light came on: some faults need the heat. */
  readonly litMinutes: number;
  readonly attitude: "standing" | "hung";
  /** How often what is judged moved in the step; a there and back when nobody says. */
  readonly movements?: number;
  /** How often somebody pressed in it, in all its attempts; none when nobody says. */
  readonly presses?: number;
}

/** The observations with their functions filled in: a step without functions moved everything that the fixture has. */
export const withFunctions = (
  fitted: readonly Fitted[],
  observations: readonly Observation[],
): readonly Observation[] =>
  observations.map((one) => (one.functions.length > 0 ? one : { ...one, functions: fitted }));

/** A symptom, and the function it was seen on if it was one. */
export interface Report {
  readonly symptom: SymptomId;
  readonly function: FunctionId | undefined;
}

/** What an inspection brought. */
export interface InspectionAnswer {
  readonly inspection: InspectionId;
  readonly answer: "good" | "bad" | "unsure" | "not-asked";
}
