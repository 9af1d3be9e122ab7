import { cleaning, DIRT } from "../domain/trade/cleanings.ts";
import { coverWords } from "../domain/trade/covers.ts";
import { HOLD_POINTS } from "../domain/trade/hold-points.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { READINGS } from "../domain/trade/readings.ts";
import type { HandTask } from "../run/session/by-hand/task.ts";

/** The headline over something to be done by hand: in capitals, and in few words for large letters. */
export const handHeadline = (task: HandTask): { readonly usual: string; readonly far: string } => {
  switch (task.kind) {
    case "hold-point":
      return { usual: `hold point, before ${HOLD_POINTS[task.point].before}`, far: "Hold point" };
    case "look":
      return { usual: `inspection, ${coverWords(inspection(task.inspection).cover)}`, far: "Inspect" };
    case "looks":
      return { usual: `inspection, ${coverWords(task.cover)}`, far: "Inspect" };
    case "dirt":
      return { usual: "how dirty is it?", far: "How dirty?" };
    case "cleans":
      return { usual: `clean: ${DIRT[task.dirt].words}`, far: "Clean" };
    case "clean":
      return { usual: `clean: ${cleaning(task.cleaning).what}`, far: "Clean" };
    case "reading":
      return { usual: `measure: ${READINGS[task.reading].words}`, far: "Measure" };
    case "blocked":
      return { usual: "no power before this is repaired", far: "No power" };
    case "fault":
      return { usual: "what was the fault?", far: "What fault?" };
    case "mend":
      return { usual: "repaired?", far: "Repaired?" };
    case "once-more":
      return { usual: "enough clean passes?", far: "Once more?" };
    case "sign":
      return { usual: task.reasons.length === 0 ? "sign off?" : "not ready yet", far: "Sign?" };
    default:
      return task satisfies never;
  }
};
