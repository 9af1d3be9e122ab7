import { cleaning, DIRT } from "../domain/trade/cleanings.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { coverWords, HOLD_POINTS } from "../domain/trade/hold-points.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { READINGS } from "../domain/trade/readings.ts";
import type { HandTask } from "../run/session/by-hand/task.ts";
import { askingHeadline } from "./asking-rows.ts";
import { headlineOf } from "./moving-rows.ts";
import type { Moving, Sight } from "./sight.ts";
import type { Headline } from "./view.ts";

/** What the page is about: in capitals, and in few words for large letters. */
export const headline = (sight: Sight): Headline => {
  const { stage } = sight.session;
  switch (stage.kind) {
    case "moving":
      return { usual: headlineOf(stage.step), far: farHeadline(sight, stage) };
    case "asking":
      return { usual: askingHeadline(sight, stage), far: "What?" };
    case "holding":
      return stage.point === "before-moving"
        ? { usual: "before anything moves", far: "Clear?" }
        : { usual: "switch the mains on", far: "Mains on" };
    case "slow-start":
      return { usual: "slow movement first", far: "Slow" };
    case "stirring":
      return { usual: `commanded to move: ${functionWords(stage.ask)}`, far: functionWords(stage.ask) };
    case "what-moved":
      return { usual: "what moved?", far: "What moved?" };
    case "setting-found":
      return { usual: "how it is set", far: "Settings" };
    case "diagnosing":
      return { usual: "calculating the likely faults", far: "One moment" };
    case "placed":
      return { usual: `where it happened: ${functionWords(stage.function)}`, far: "Where" };
    case "at-spot":
      return { usual: `back at the fault position: ${functionWords(stage.placed.function)}`, far: "Position" };
    case "by-hand":
      return handHeadline(stage.task);
    case "what-next":
      return { usual: "what next?", far: "What next?" };
    case "confirming":
      return { usual: "did you watch these?", far: "Watched?" };
    case "paused":
      return stage.why === "away" ? { usual: "pause", far: "Pause" } : { usual: "standing still", far: "Still" };
    case "line-lost":
      return stage.back
        ? { usual: "the DMX line is back", far: "Line back" }
        : { usual: "the DMX line is lost", far: "Line lost" };
    case "other-interface":
      return { usual: "another interface", far: "Interface?" };
    case "finished":
      return {
        usual: stage.how === "finished" ? "finished" : "stopped",
        far: stage.how === "finished" ? "Done" : "Stopped",
      };
    case "opening":
      return { usual: "one moment", far: "One moment" };
    default:
      return stage satisfies never;
  }
};

/** A press is answered large for a moment: from afar nothing else tells that it was felt. */
const farHeadline = ({ session, sincePress }: Sight, stage: Moving): string => {
  const count = session.view.steps[stage.index]?.presses.length ?? 0;
  return count > 0 && sincePress < 1 ? `Pressed ${count}` : headlineOf(stage.step);
};

/** The headline over something to be done by hand: in capitals, and in few words for large letters. */
const handHeadline = (task: HandTask): { readonly usual: string; readonly far: string } => {
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
