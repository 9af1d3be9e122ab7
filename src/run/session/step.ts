import type { BodyOf } from "../events/event.ts";
import { holdConfirmed } from "../machine/clearance.ts";
import type { PersonAnswer, Stamped } from "../machine/input.ts";
import { andThen, stay, storedUpTo, withEffects } from "../machine/running.ts";
import { type Reactions, routed, stepped } from "../machine/step.ts";
import { choose } from "./adding.ts";
import { afterFinding, answer, answerMoved, answerPlaced, answerSilence, diagnosed, stirred } from "./answering.ts";
import { fixtureTold } from "./asked.ts";
import { answerAtSpot, workedOn } from "./at-spot.ts";
import { answerHand } from "./by-hand/answering.ts";
import { dirtIn, isDirtOpen } from "./by-hand/cleaning.ts";
import { holdsAfter } from "./by-hand/holds.ts";
import { sayDirt } from "./by-hand/mending.ts";
import { attemptAt, type Change, type SessionEffect, write } from "./change.ts";
import { arrive, askGroup, end, goOn, towards } from "./flow.ts";
import { type Next, stepAt } from "./job.ts";
import { signOfLife } from "./judging.ts";
import { agreeToStranger, begin, endLoss, lineLost, lineOpen, strangerMet } from "./line.ts";
import { byHand, endPause, pause, stoppedAt } from "./pausing.ts";
import { play, played, press, pressAtQuestion, pressOnItsWay, pressTooLate } from "./playing.ts";
import { back, repeat, takeBack, withdrawClearance } from "./retaking.ts";
import { questionOf, type Session, type StageOf } from "./session.ts";

/**
 * All behaviour of a fixture's run: what a session becomes when something happens, and what it then wants of the world.
 * Pure: time comes with the input, and a key that answers a question which is over changes nothing.
 */
export const step = (session: Session, input: Stamped): Change =>
  stepped(BY_ITSELF, session, input, (s) => routed(BY_ITSELF, s, input));

/** What an effect tells the fixture: a step to play, or to hold where it is. */
const tells = (effect: SessionEffect) =>
  effect.kind === "play" ? effect.step : effect.kind === "go-dark" ? "dark" : undefined;

/** What is a fixture's own in the way of its inputs. */
const BY_ITSELF: Reactions<Session, SessionEffect> = {
  unanswered: ({ group }) => group,
  withCommanded: (session, change) => ({ ...session, commanded: change(session.commanded, tells) }),
  questionOf,
  begin,
  write,
  stored: (session, { count }) => storedUpTo(session, count),
  fixtureTold,
  interfaceOn: ({ view }) => view.interface,
  lineLost: (session, { words, frame }) => lineLost(session, words, frame),
  lineOpen,
  strangerMet,
  halt: (session, { frame }, words) => pause(session, "away", frame, words),
  byHand,
  leaving: (session, then) => then(session),
  stoppedAt,
  end,
  played: (session, input) => afterPlaying(session, input),
  diagnosed: (session, { diagnosis }) => diagnosed(session, diagnosis),
  signOfLife,
  answered: (session, input) => answered(session, input),
  answeredLate: (session, input) => (input.kind === "press" ? pressTooLate(session, input) : stay(session)),
  onItsWay: pressOnItsWay,
};

/** A press at a question that has just appeared was meant for what had moved; of a silent group it is then asked about. */
const answered = (session: Session, input: PersonAnswer): Change => {
  if (input.kind === "photo") return photographed(session, input.file);
  const { kind } = session.stage;
  const late =
    input.kind === "press" && (kind === "asking" || kind === "confirming") && pressAtQuestion(session, input);
  if (!late) return atStage(session, input);
  return kind === "confirming" ? andThen(late, askGroup) : late;
};

const afterPlaying = (session: Session, input: Extract<Stamped, { kind: "played" }>): Change => {
  const { stage } = session;
  if (stage.kind === "slow-start") return arrive({ ...session, slowShown: true }, stage.next, stage.stirs);
  if (stage.kind === "stirring") return stirred(session, stage);
  if (stage.kind === "at-spot") return workedOn(session, stage);
  if (stage.kind !== "moving") return stay(session);
  return andThen(played(session, stage, input), (s) => (s.stage === stage ? goOn(s) : stay(s)));
};

const atStage = (session: Session, input: PersonAnswer): Change => {
  const { stage } = session;
  switch (stage.kind) {
    case "moving":
      return whileMoving(session, stage, input);
    case "asking":
      return answer(session, stage, input);
    case "holding":
      return confirmHold(session, stage, input);
    case "confirming":
      return answerSilence(session, stage, input);
    case "paused":
      return endPause(session, stage, input);
    case "line-lost":
      return endLoss(session, stage, input);
    case "other-interface":
      return agreeToStranger(session, stage, input);
    case "what-moved":
      return answerMoved(session, stage, input);
    case "setting-found":
      return afterFinding(session, stage, input);
    case "placed":
      return answerPlaced(session, stage, input);
    case "at-spot":
      return answerAtSpot(session, stage, input);
    case "by-hand":
      return answerHand(session, stage.task, input);
    case "what-next":
      return answerOffers(session, stage, input);
    case "slow-start":
    case "stirring":
      return input.kind === "undo" ? withdrawClearance(session, input.frame) : stay(session);
    case "diagnosing":
    case "opening":
    case "finished":
      return stay(session);
    default:
      return stage satisfies never;
  }
};

/** Takes the answer to a hold point. With the mains the area is confirmed, too, and each is kept. */
const confirmHold = (session: Session, stage: StageOf<"holding">, input: Stamped): Change => {
  if (input.kind === "undo") return takeBack(session);
  if (input.kind !== "confirm") return stay(session);
  return andThen(holdConfirmed(session, stage.point, write), (s) =>
    stage.point === "mains-on" ? mainsOn(s, stage.next) : towards(s, stage.next, stage.stirs),
  );
};

const mainsOn = (session: Session, next: Next): Change =>
  andThen(withEffects({ ...session, holds: holdsAfter(session.holds, "mains-on") }, { kind: "mains-on" }), (on) =>
    play(on, next),
  );

const answerOffers = (session: Session, stage: StageOf<"what-next">, input: PersonAnswer): Change => {
  if (input.kind === "choose") return choose(session, stage, input);
  return input.kind === "confirm" || input.kind === "decline" ? goOn({ ...session, advised: true }) : stay(session);
};

/** A soak needs no eyes: what is asked on paper can be answered meanwhile. */
const besideSoak = (session: Session, { step }: StageOf<"moving">, input: Stamped): Change =>
  (step.routine === "soak" && isDirtOpen(session) && dirtIn(session) === undefined
    ? sayDirt(session, input)
    : undefined) ?? stay(session);

const whileMoving = (session: Session, stage: StageOf<"moving">, input: PersonAnswer): Change => {
  switch (input.kind) {
    case "press":
      return press(session, stage, input);
    case "again":
      return repeat(session, stage.index, 1, input.frame);
    case "slower":
      return repeat(session, stage.index, stage.step.pace / 2, input.frame);
    case "back":
      return back(session, stage.index, input.frame);
    case "freeze":
    case "away":
      return pause(session, input.kind, input.frame);
    case "choose":
      return besideSoak(session, stage, input);
    case "undo":
      return withdrawClearance(session, input.frame);
    default:
      return stay(session);
  }
};

/** Keeps a photo: an event says what it shows, and an inspection also names it. */
const photographed = (session: Session, file: string): Change =>
  andThen(write(session, { kind: "photo-taken", file, of: whatIsOpen(session) }), (after) => {
    const { stage } = after;
    if (stage.kind !== "by-hand" || stage.task.kind !== "look") return stay(after);
    return stay({ ...after, stage: { ...stage, task: { ...stage.task, photo: file } } });
  });

const whatIsOpen = (session: Session): BodyOf<"photo-taken">["of"] => {
  const { stage, job } = session;
  if (stage.kind === "asking") {
    const { id } = stepAt(job, stage.index);
    return { what: "step", step: id, attempt: attemptAt(session, stage.index) };
  }
  if (stage.kind !== "by-hand") return { what: "fixture" };
  const { task } = stage;
  if (task.kind === "look") return { what: "look", inspection: task.inspection };
  if (task.kind === "clean") return { what: "cleaning", cleaning: task.cleaning };
  if (task.kind === "fault") return { what: "fault" };
  if (task.kind !== "mend") return { what: "fixture" };
  return task.mended === "something-else" ? { what: "repair" } : { what: "repair", fault: task.mended };
};
