import { stay } from "../machine/running.ts";
import { addStep } from "./adding.ts";
import { returnToSpot } from "./at-spot.ts";
import type { Change } from "./change.ts";
import { leave } from "./coming-back.ts";
import { askGroup } from "./flow.ts";
import type { Stamped } from "./input.ts";
import { repeat, undoJudgement } from "./retaking.ts";
import type { Placed, Session } from "./session.ts";

/**
 * Takes an answer on the page of where it happened: one key runs a test that tells more; else on
 * with the run, or back to the question.
 */
export const answerPlaced = (session: Session, stage: Placed, input: Stamped): Change => {
  switch (input.kind) {
    case "choose": {
      const test = stage.tests[input.offer];
      return test ? addStep(session, test.step, stage.index) : stay(session);
    }
    case "return":
      return returnToSpot(session, stage);
    case "again":
      return repeat(session, stage.index, 1);
    case "slower":
      return repeat(session, stage.index, (session.view.steps[stage.index]?.pace ?? 1) / 2);
    case "undo":
      return undoJudgement(session);
    case "away":
      return leave(session, stage.index);
    case "confirm":
      return askGroup(session);
    default:
      return stay(session);
  }
};
