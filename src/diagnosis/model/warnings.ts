import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { Probability } from "../../domain/units.ts";
import { bestLookAt, FAULTS, type FaultId, type KnownFault } from "./knowledge/faults.ts";
import type { InspectionAnswer } from "./observation.ts";
import { type Fitted, mechanismsOf } from "./places.ts";

/** A danger to people that must be looked for, or was found. */
export interface Warning {
  readonly id: FaultId;
  readonly title: string;
  readonly inspection: InspectionId;
  /** Due: not looked at yet, or without a clear answer. Found: out of service until mended. */
  readonly state: "due" | "found";
  readonly say: string;
  readonly probability: Probability;
}

/** Every danger whose look by hand is not yet answered "good". */
export const warningsOf = (
  fitted: readonly Fitted[],
  answers: readonly InspectionAnswer[],
  posteriors: Readonly<Record<string, Probability>>,
): readonly Warning[] =>
  FAULTS.filter(({ mechanism, danger }) => danger === "out of service" && mechanismsOf(fitted).has(mechanism)).flatMap(
    (fault) => {
      const look = bestLookAt(fault);
      const answer = answers.findLast(({ inspection: id }) => id === look)?.answer;
      if (answer === "good") return [];
      const state = answer === "bad" ? "found" : "due";
      return [
        {
          id: fault.id,
          title: fault.title,
          inspection: look,
          state,
          say: say(fault, look, state),
          probability: posteriors[fault.id] ?? 0,
        },
      ];
    },
  );

const say = (fault: KnownFault, look: InspectionId, state: Warning["state"]): string =>
  state === "found"
    ? `OUT OF SERVICE: ${fault.title}; ${fault.remedy.replace(/^out of service; /, "")}`
    : `danger to people until inspected: ${inspection(look).look} (${fault.title}?)`;
