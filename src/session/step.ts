import type { EventBody } from "../record/event.ts";
import { choose } from "./advising.ts";
import { answer, answerSilence, back, confirmHold, endLoss, endPause, repeat } from "./answering.ts";
import { andThen, type Change, stay, wishing, write } from "./change.ts";
import { answerMoved, stirred } from "./finding.ts";
import { askGroup, end, finish, goOn, towards } from "./flow.ts";
import type { PersonInput, Stamped } from "./input.ts";
import { stepAt } from "./job.ts";
import { play, played, press, pressTooLate } from "./playing.ts";
import { type Next, questionOf, type Session, type Stage } from "./session.ts";

/**
 * All behaviour of a run: what a session becomes when something happens, and what it then wants of the world.
 * Pure: time comes with the input, and a key that answers a question which is over changes nothing.
 */
export const step = (session: Session, input: Stamped): Change => {
  const s: Session = { ...session, now: input.at };
  switch (input.kind) {
    case "begin":
      return begin(s);
    case "stored":
      return stay({ ...s, stored: Math.max(s.stored, input.count) });
    case "journal-failed":
      return journalFailed(s, input.words);
    case "line-lost":
      return lineLost(s, input.words, input.frame);
    case "line-open":
      return lineOpen(s);
    case "played":
      return input.answers === questionOf(s) ? afterPlaying(s, input) : stay(s);
    case "signal":
    case "stop":
      return stop(s, input);
    case "person":
      return stay({ ...s, person: input.initials });
    case "here":
      return stay(signOfLife(s));
    default:
      return input.answers === questionOf(s) ? atStage(signOfLife(s), input) : tooLate(signOfLife(s), input);
  }
};

/** An answer to a question that is over does nothing; a press still belongs to the step that was being watched. */
const tooLate = (session: Session, input: Stamped & PersonInput): Change =>
  input.kind === "press" ? pressTooLate(session, input) : stay(session);

const signOfLife = (session: Session): Session => ({ ...session, signs: [...session.signs, session.now] });

const begin = (session: Session): Change => {
  const { job, view } = session;
  const opened = view.opened ? stay(session) : write(session, job.opening);
  const missing = job.timeline.steps.filter(
    ({ fitted, id }) => !fitted && !view.steps.find((one) => one.id === id)?.judged,
  );
  const marked = missing.reduce<Change>(
    (change, one) => andThen(change, (s) => write(s, notFitted(s, one.id))),
    opened,
  );
  return andThen(marked, (s) =>
    wishing(
      { ...s, watchingSince: s.now, signs: [s.now], litSince: litBefore(s) },
      { kind: "open-line", patience: "once" },
    ),
  );
};

/** Without a power-up in its plan a run finds a fixture that was brought up before and is warm. */
const litBefore = ({ job, now }: Session): number | undefined =>
  job.timeline.steps.some(({ routine, fitted }) => routine === "power-up" && fitted)
    ? undefined
    : now - job.timeline.profile.lamp.warm;

const notFitted = ({ job }: Session, id: string): EventBody => ({
  kind: "step-judged",
  step: id,
  attempt: 1,
  result: "not-fitted",
  symptoms: [],
  note: "",
  watched: "no",
  lit_min: 0,
  attitude: job.bench.attitude,
  on_watch_min: 0,
  rig: { worst_late_s: 0, dropped: 0, lost: false },
});

const lineOpen = (session: Session): Change => {
  const { stage } = session;
  if (stage.kind === "opening") return goOn(session);
  if (stage.kind !== "line-lost" || stage.back) return stay(session);
  const words = "The DMX line is back. It goes on when you agree.";
  return andThen(
    write({ ...session, stage: { ...stage, back: true } }, course(session, stage.next, "line-back", "")),
    (s) => wishing(s, { kind: "rest" }, { kind: "say", words }),
  );
};

/** Whatever was going on, it waits; the frame that was out is kept, so that it can go on from there. */
const lineLost = (session: Session, words: string, frame: number): Change => {
  const { stage } = session;
  if (stage.kind === "finished" || stage.kind === "line-lost") return stay({ ...session, trouble: words });
  if (stage.kind === "opening") return andThen(stay({ ...session, trouble: words }), (s) => end(s, "failed"));
  const next = nextOf(session, frame);
  const waiting: Session = {
    ...session,
    trouble: words,
    slowShown: false,
    cleared: false,
    stage: { kind: "line-lost", words, back: false, next: { ...next, lost: stage.kind === "moving" } },
  };
  return andThen(write(waiting, course(waiting, next, "line-lost", words)), (s) =>
    wishing(
      s,
      { kind: "freeze" },
      { kind: "say", words: `The DMX line is lost. ${words}` },
      { kind: "open-line", patience: "until-open" },
    ),
  );
};

const nextOf = (session: Session, frame: number): Next => {
  const { stage } = session;
  if (stage.kind === "moving") return { index: stage.index, frame, pace: stage.step.pace, lost: stage.lost };
  if (stage.kind === "holding" || stage.kind === "slow-start" || stage.kind === "paused") return stage.next;
  const index = "index" in stage ? stage.index : stage.kind === "confirming" ? (stage.indexes[0] ?? 0) : 0;
  return { index, frame: 0, pace: 1, lost: false };
};

const afterPlaying = (session: Session, input: Extract<Stamped, { kind: "played" }>): Change => {
  const { stage } = session;
  if (stage.kind === "slow-start") return play({ ...session, slowShown: true }, stage.next);
  if (stage.kind === "stirring") return stirred(session, stage);
  if (stage.kind !== "moving") return stay(session);
  return andThen(played(session, stage, input), (s) => (s.stage === stage ? goOn(s) : stay(s)));
};

const atStage = (session: Session, input: Stamped & PersonInput): Change => {
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
    case "what-moved":
      return answerMoved(session, stage, input, askGroup);
    case "setting-found":
      return afterFinding(session, stage, input);
    case "what-next":
      return answerOffers(session, stage, input);
    case "slow-start":
    case "stirring":
    case "opening":
    case "finished":
      return stay(session);
    default:
      return stage satisfies never;
  }
};

/** With the setting put right the fixture is identified again; "leave it" goes on as it is. */
const afterFinding = (session: Session, stage: Extract<Stage, { kind: "setting-found" }>, input: Stamped): Change => {
  if (input.kind === "decline") return askGroup(session);
  return input.kind === "confirm" || input.kind === "again" ? repeat(session, stage.index, 1) : stay(session);
};

const answerOffers = (
  session: Session,
  stage: Extract<Stage, { kind: "what-next" }>,
  input: Stamped & PersonInput,
): Change => {
  if (input.kind === "choose") return choose(session, stage, input, towards);
  return input.kind === "confirm" || input.kind === "decline" ? finish(session) : stay(session);
};

const whileMoving = (
  session: Session,
  stage: Extract<Stage, { kind: "moving" }>,
  input: Stamped & PersonInput,
): Change => {
  switch (input.kind) {
    case "press":
      return press(session, stage, input);
    case "again":
      return repeat(session, stage.index, 1);
    case "slower":
      return repeat(session, stage.index, stage.step.pace / 2);
    case "back":
      return back(session, stage.index);
    case "freeze":
    case "away":
      return pause(session, stage, input.kind, input.frame);
    default:
      return stay(session);
  }
};

/** Freeze: still and as it is. Away: still and dark, and the step does not count as watched. */
const pause = (
  session: Session,
  stage: Extract<Stage, { kind: "moving" }>,
  why: "freeze" | "away",
  frame: number,
): Change => {
  const next: Next = { index: stage.index, frame, pace: stage.step.pace, lost: stage.lost };
  const cleared = why === "freeze" && session.cleared;
  const still: Session = {
    ...session,
    cleared,
    slowShown: cleared && session.slowShown,
    stage: { kind: "paused", why, next },
  };
  return andThen(write(still, course(still, next, why === "away" ? "away" : "frozen", "")), (s) =>
    wishing(s, { kind: why === "away" ? "go-dark" : "freeze" }),
  );
};

/** The record may be lost, so nothing more is judged: stop, dark, and say so. */
const journalFailed = (session: Session, words: string): Change =>
  session.stage.kind === "finished"
    ? stay({ ...session, trouble: words })
    : wishing(
        { ...session, trouble: words, stage: { kind: "finished", how: "failed" } },
        { kind: "rest" },
        { kind: "say", words },
        { kind: "end" },
      );

const stop = (session: Session, input: Stamped): Change => {
  if (session.stage.kind === "finished") return stay(session);
  const next = nextOf(session, input.frame);
  const detail = input.kind === "signal" ? input.name : "";
  return andThen(write(session, course(session, next, "stopped", detail)), (s) => end(s, "stopped"));
};

const course = (
  session: Session,
  next: Next,
  what: "line-lost" | "line-back" | "frozen" | "away" | "stopped",
  detail: string,
) =>
  ({
    kind: "course-changed",
    step: stepAt(session.job, next.index).id,
    attempt: Math.max(1, session.view.steps[next.index]?.attempt ?? 1),
    frame: next.frame,
    what,
    detail,
  }) as const;
