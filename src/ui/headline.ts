import { functionWords } from "../domain/trade/functions.ts";
import { askingHeadline } from "./asking-rows.ts";
import { handHeadline } from "./by-hand-headline.ts";
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
