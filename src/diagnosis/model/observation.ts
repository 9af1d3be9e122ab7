import type { FunctionId } from "../../domain/trade/functions.ts";
import type { InspectionId } from "../../domain/trade/inspections.ts";
import type { RoutineId, StepResult } from "../../domain/trade/routines.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Degrees } from "../../domain/units.ts";
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
  /** How it was played; nobody says where it is not known. */
  readonly circumstances?: Circumstances;
  /** How often somebody pressed in it, in all its attempts; none when nobody says. */
  readonly presses?: number;
}

/** How a step was played, as far as it bears on what can show in it. */
export interface Circumstances {
  /** Least and most tilt of the head in it; 0 points the beam straight away from the base. */
  readonly tilt: readonly [Degrees, Degrees];
  /** Whether the same movement was watched before with the head leaning another way. */
  readonly leanings: "one" | "two";
  readonly beam: "open" | "shut";
  /** Of the fixture's own full speed, 0 to 1, where what is tested moved fastest; a jump is 1. */
  readonly speed: number;
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
