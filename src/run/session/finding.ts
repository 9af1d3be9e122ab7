import type { Moved } from "../../data/rack/what-moved.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Stamped } from "../machine/input.ts";
import { andThen, stay } from "../machine/running.ts";
import { type Change, write } from "./change.ts";
import { askGroup, towards } from "./flow.ts";
import { stepAt } from "./job.ts";
import { concluded } from "./playing.ts";
import type { Session, StageOf } from "./session.ts";

/** After `identify` these mean that address, mode, menu or data are to be found out before anything else is worth judging. */
const WRONG: readonly SymptomId[] = ["nothing-moves", "wrong-thing", "something-else-moved", "no-move"];

/**
 * Whether the last judgement says that the fixture does not do what it is commanded to. `index`
 * is the step's place in the run, from 0.
 */
export const listensWrongly = ({ job, view }: Session, index: number): boolean => {
  const judged = view.steps[index]?.judged;
  const identify = stepAt(job, index).routine === "identify";
  return identify && judged?.result === "fail" && judged.symptoms.some(({ symptom }) => WRONG.includes(symptom));
};

/**
 * Asks on by moving a function a little, through the safety page where it is due; with nothing left to ask says what it
 * can. `index` is the step's place in the run, from 0.
 */
export const find = (session: Session, index: number, answers: readonly Moved[]): Change => {
  const conclusion = concluded(session, answers);
  return conclusion.ask === undefined
    ? stay({ ...session, stage: { kind: "setting-found", index, answers, conclusion } })
    : towards(session, { index, frame: 0, pace: 1, lost: false }, answers);
};

/** Asks what moved, when the little movement is over. */
export const stirred = (session: Session, { index, ask, answers }: StageOf<"stirring">): Change =>
  stay({ ...session, stage: { kind: "what-moved", index, ask, answers } });

/** Takes what moved and keeps it; or leaves it, and goes back to the run. */
export const answerMoved = (
  session: Session,
  { index, ask, answers }: StageOf<"what-moved">,
  input: Stamped,
): Change => {
  if (input.kind === "decline") return askGroup(session);
  if (input.kind === "again") return find(session, index, answers);
  if (input.kind !== "moved") return stay(session);
  const more: readonly Moved[] = [...answers, { asked: ask, moved: input.what }];
  const { settled } = concluded(session, more);
  const conclusion = settled?.words ?? "can't say yet";
  return andThen(write(session, { kind: "identified", asked: ask, answer: input.what, conclusion }), (s) =>
    find(s, index, more),
  );
};
