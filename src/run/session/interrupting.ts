import type { Frame, Seconds } from "../../domain/units.ts";
import { cutOff, lineBack, stoodStill as stoodStillAnywhere } from "../machine/interrupting.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import { type Change, write } from "./change.ts";
import { courseOf } from "./course.ts";
import type { SessionEffect } from "./effect.ts";
import { end, goOn } from "./flow.ts";
import type { Stamped } from "./input.ts";
import type { Next } from "./next.ts";
import type { Session, Stage } from "./session.ts";

/** Goes on when the line can be used: at the start the run begins, after a loss a person has to agree first. */
export const lineOpen = (session: Session): Change => {
  const { stage } = session;
  if (stage.kind === "opening") return goOn(session);
  if (stage.kind === "by-hand") return stay({ ...session, trouble: undefined });
  if (stage.kind !== "line-lost" || stage.back) return stay(session);
  return andThen(write(session, courseOf(session, stage.next, "line-back")), (s) => lineBack(s, stage));
};

/** Makes the run wait when its line is lost; the frame that was out is kept, so that it can go on from there. */
export const lineLost = (session: Session, words: string, frame: number): Change => {
  const { stage } = session;
  if (stage.kind === "finished" || stage.kind === "other-interface") return stay({ ...session, trouble: words });
  if (stage.kind === "line-lost")
    return stage.back ? waitForLine(session, { ...stage, words, back: false }) : stay({ ...session, trouble: words });
  if (stage.kind === "opening") return end({ ...session, trouble: words }, "failed");
  if (stage.kind === "by-hand") return lostMeanwhile(session, words);
  const next = nextOf(session, frame);
  return waitForLine(session, {
    kind: "line-lost",
    words,
    back: false,
    next: { ...next, lost: next.lost || stage.kind === "moving" },
    asked: isQuestion(stage) ? stage : undefined,
  });
};

type Lost = Extract<Stage, { kind: "line-lost" }>;

/** Waits for the line, also where it came back and was lost again before anybody agreed. */
const waitForLine = (session: Session, stage: Lost): Change =>
  andThen(write(session, courseOf(session, stage.next, "line-lost", stage.words)), (s) =>
    andThen<Session, SessionEffect>(cutOff(s, stage, stage), (dark) =>
      withEffects(dark, { kind: "open-line", patience: "until-open", known: dark.view.interface }),
    ),
  );

/** Nothing moves, and what is open is about what has been. */
const isQuestion = ({ kind }: Stage): boolean =>
  ["asking", "confirming", "what-moved", "setting-found", "diagnosing", "placed", "what-next"].includes(kind);

/** Makes the run wait when nothing was sent for `time`: what moved is treated like a step that somebody left. */
export const stoodStill = (session: Session, time: Seconds, frame: number): Change =>
  stoodStillAnywhere<Session, SessionEffect>(session, time, {
    halt: (doubtful, words) => {
      const next = nextOf(session, frame);
      const still: Session = { ...doubtful, stage: { kind: "paused", why: "away", next } };
      return andThen(write(still, courseOf(still, next, "away", words)), (s) => withEffects(s, { kind: "go-dark" }));
    },
    // The work goes on where it was. After a long time nobody knows whether it is still isolated.
    byHand: (s) => (time < HOLDS_LAST_S ? s : { ...s, holds: [] }),
  });

const HOLDS_LAST_S = 600;

/** The line was lost during work by hand: nothing moves, so the work goes on while the line is opened again; before anything moves again the area is asked about. */
const lostMeanwhile = (session: Session, words: string): Change =>
  withEffects(
    { ...uncleared(session), trouble: words },
    { kind: "open-line", patience: "until-open", known: session.view.interface },
  );

const nextOf = (session: Session, frame: number): Next => {
  const { stage } = session;
  if (stage.kind === "other-interface") return nextOf({ ...session, stage: stage.before }, frame);
  if (stage.kind === "line-lost") return stage.next;
  if (stage.kind === "moving") return { index: stage.index, frame, pace: stage.step.pace, lost: stage.lost };
  if (stage.kind === "diagnosing" && stage.purpose.kind === "place")
    return { index: stage.purpose.index, frame: 0, pace: 1, lost: false };
  if (stage.kind === "by-hand") return { index: openOrLast(session), frame: 0, pace: 1, lost: false };
  if (stage.kind === "holding" || stage.kind === "slow-start" || stage.kind === "paused") return stage.next;
  if (stage.kind === "at-spot") return { index: stage.placed.index, frame: 0, pace: 1, lost: false };
  const index = "index" in stage ? stage.index : stage.kind === "confirming" ? (stage.indexes[0] ?? 0) : 0;
  return { index, frame: 0, pace: 1, lost: false };
};

/** The step that the work by hand comes before. */
const openOrLast = ({ view }: Session): number => {
  const open = view.steps.findIndex(({ judged }) => judged === undefined);
  return open < 0 ? view.steps.length - 1 : open;
};

/**
 * Makes a moving step wait, dark; before it moves again the area is asked about. After a freeze the step goes on at its
 * frame; after being away it starts again.
 */
export const pause = (
  session: Session,
  stage: Extract<Stage, { kind: "moving" }>,
  why: "freeze" | "away",
  frame: number,
): Change => {
  const next: Next = { index: stage.index, frame, pace: stage.step.pace, lost: stage.lost };
  const still: Session = { ...session, stage: { kind: "paused", why, next } };
  return andThen(write(still, courseOf(still, next, why === "away" ? "away" : "frozen")), (s) =>
    withEffects(s, { kind: "go-dark" }),
  );
};

/** Stops the run for the person or the system: dark where it stands, and the journal is told where. */
export const stop = (session: Session, input: Stamped): Change =>
  session.stage.kind === "finished"
    ? stay(session)
    : andThen(stoppedAt(session, input.frame, input.kind === "signal" ? input.name : ""), (s) => end(s, "stopped"));

/** Keeps the frame at which the run was stopped; `by` is the name of a signal, or empty. */
export const stoppedAt = (session: Session, frame: Frame, by: string): Change =>
  write(session, courseOf(session, nextOf(session, frame), "stopped", by));
