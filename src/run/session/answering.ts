import type { Moved } from "../../data/rack/what-moved.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { ReportedSymptom } from "../events/event.ts";
import type { Diagnosis } from "../machine/diagnose.ts";
import type { Stamped } from "../machine/input.ts";
import { andThen, stay } from "../machine/running.ts";
import { addStep } from "./adding.ts";
import { returnToSpot } from "./at-spot.ts";
import { askFault } from "./by-hand/mending.ts";
import { type Change, write } from "./change.ts";
import { askForDiagnosis, diagnosisNow, isWorthPlacing, placedAt } from "./diagnosing.ts";
import { answeredWith, askAbout, askGroup, confirmAllBut, confirmSilence, goOn, towards } from "./flow.ts";
import { stepAt } from "./job.ts";
import { judgeStep } from "./judging.ts";
import { leave } from "./pausing.ts";
import { concluded } from "./playing.ts";
import { back, repeat, undoJudgement } from "./retaking.ts";
import type { Placed, Session, StageOf } from "./session.ts";

/** Answers about a step that is over. */
export const answer = (session: Session, stage: StageOf<"asking">, input: Stamped): Change => {
  switch (input.kind) {
    case "symptom":
      return stay({ ...session, stage: { ...stage, symptoms: toggled(stage.symptoms, input.symptom) } });
    case "note":
      return stay({ ...session, stage: { ...stage, note: input.text.replaceAll("\0", "") } });
    case "judge":
      return judged(session, stage, input.result);
    case "confirm":
      return judged(session, stage, verdictOf(session, stage));
    case "undo":
      return undo(session, stage);
    case "again":
      return repeat(session, stage.index, 1);
    case "slower":
      return repeat(session, stage.index, (session.view.steps[stage.index]?.pace ?? 1) / 2);
    case "back":
      return back(session, stage.index);
    case "away":
      return leave(session, stage.index);
    default:
      return stay(session);
  }
};

const toggled = (symptoms: readonly ReportedSymptom[], one: ReportedSymptom): readonly ReportedSymptom[] => {
  const others = symptoms.filter((other) => other.symptom !== one.symptom || other.function !== one.function);
  return others.length < symptoms.length ? others : [...symptoms, one];
};

/** "Done": a named symptom is a fail, a press that names none is unsure, silence is a pass. */
const verdictOf = (session: Session, stage: StageOf<"asking">): "fail" | "unsure" | "pass" => {
  if (stage.symptoms.length > 0) return "fail";
  const step = session.view.steps[stage.index];
  // Where it is timed a press says that it has arrived, and nothing is wrong with that.
  return step && step.routine !== "stopwatch" && step.presses.length > 0 ? "unsure" : "pass";
};

const judged = (
  session: Session,
  stage: StageOf<"asking">,
  result: "pass" | "fail" | "unsure" | "not-asked",
): Change => {
  const played = session.group.find(({ index }) => index === stage.index);
  if (!played) throw new Error(`Bug: asked about step ${stage.index}, which was not played`);
  const symptoms = result === "pass" || result === "not-asked" ? [] : stage.symptoms;
  const others = result === "pass" ? answeredWith(session, stage.index) : [];
  const written = others.reduce<Change>(
    (change, one) => andThen(change, (s) => judgeStep(s, one, "pass", [], "", "attended")),
    judgeStep(session, played, result, symptoms, stage.note, "attended"),
  );
  return andThen(written, (s) =>
    listensWrongly(s, stage.index) ? find(s, stage.index, []) : placeOrAsk(s, stage.index),
  );
};

/** Where it was pressed is shown before anything else is asked. */
const placeOrAsk = (session: Session, index: number): Change => {
  if (!isWorthPlacing(session, index)) return askGroup(session);
  const diagnosis = diagnosisNow(session);
  if (!diagnosis) return askForDiagnosis(session, { kind: "place", index });
  const placed = placedAt(session, index, diagnosis);
  return placed ? stay({ ...session, stage: placed }) : askGroup(session);
};

/** Goes on with whatever waited for the diagnosis, now that it is there. */
export const diagnosed = (session: Session, diagnosis: Diagnosis): Change => {
  if (session.stage.kind !== "diagnosing") return stay(session);
  const { of, purpose } = session.stage;
  const known: Session = { ...session, diagnosed: { of, diagnosis } };
  if (purpose.kind === "place") return placeOrAsk(known, purpose.index);
  return purpose.kind === "name-fault" ? askFault(known) : goOn(known);
};

/** Undoes the last symptom; with none named, the judgement before this question, which is then asked again. */
const undo = (session: Session, stage: StageOf<"asking">): Change =>
  stage.symptoms.length > 0
    ? stay({ ...session, stage: { ...stage, symptoms: stage.symptoms.slice(0, -1) } })
    : undoJudgement(session);

/** Answers to "did you watch these". */
export const answerSilence = (session: Session, { indexes }: StageOf<"confirming">, input: Stamped): Change => {
  switch (input.kind) {
    case "confirm":
      return confirmSilence(session, "there");
    case "all-but":
      return confirmAllBut(
        session,
        input.wrong.flatMap((place) => indexes[place] ?? []),
      );
    case "decline":
      return confirmSilence(session, "not there");
    case "choose":
      return indexes[input.offer] === undefined ? stay(session) : askAbout(session, indexes[input.offer] ?? 0);
    case "undo":
      return undoJudgement(session);
    case "away":
      return leave(session, indexes[0] ?? 0);
    default:
      return stay(session);
  }
};

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

/** After `identify` these mean that address, mode, menu or data are to be found out before anything else is worth judging. */
const WRONG: readonly SymptomId[] = ["nothing-moves", "wrong-thing", "something-else-moved", "no-move"];

/**
 * Whether the last judgement says that the fixture does not do what it is commanded to. `index`
 * is the step's place in the run, from 0.
 */
const listensWrongly = ({ job, view }: Session, index: number): boolean => {
  const judged = view.steps[index]?.judged;
  const identify = stepAt(job, index).routine === "identify";
  return identify && judged?.result === "fail" && judged.symptoms.some(({ symptom }) => WRONG.includes(symptom));
};

/**
 * Asks on by moving a function a little, through the safety page where it is due; with nothing left to ask says what it
 * can. `index` is the step's place in the run, from 0.
 */
const find = (session: Session, index: number, answers: readonly Moved[]): Change => {
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

/** Identifies the fixture again when its setting was put right; "leave it" goes on as it is. */
export const afterFinding = (session: Session, stage: StageOf<"setting-found">, input: Stamped): Change => {
  if (input.kind === "decline") return askGroup(session);
  return input.kind === "confirm" ? repeat(session, stage.index, 1) : stay(session);
};
