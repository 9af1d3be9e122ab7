import type { Frame, Seconds } from "../../domain/units.ts";
import { isWaitSpared } from "../events/step-results.ts";
import type { Stamped } from "../machine/input.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import { type Change, courseOf, write } from "./change.ts";
import { towards } from "./flow.ts";
import type { Next } from "./job.ts";
import type { Session, StageOf } from "./session.ts";

/**
 * Makes what moves wait, dark; before it moves again the area is asked about. After a freeze the step goes on at its frame,
 * counted from 0; after being away, or when nothing was sent for a while, it starts again. `words` say why, "" where a person did it.
 */
export const pause = (session: Session, why: "freeze" | "away", frame: Frame, words = ""): Change => {
  const next = nextOf(session, frame);
  const still: Session = { ...session, stage: { kind: "paused", why, next } };
  return andThen(write(still, courseOf(still, next, why === "away" ? "away" : "frozen", words)), (s) =>
    withEffects(s, { kind: "go-dark" }),
  );
};

/**
 * Makes a run wait when nobody is at the bench: dark, the question stays open, and before
 * anything moves again the area is asked about.
 */
export const leave = (session: Session, index: number): Change => {
  const left = uncleared(session);
  const course = courseOf(left, { index, frame: 0 }, "away");
  return andThen(write(left, course), (s) => withEffects(s, { kind: "go-dark" }));
};

const HOLDS_LAST_S = 600;
/**
 * What is left of the work by hand when nothing was sent for `time`: it goes on where it was. After a long time nobody knows
 * whether it is still isolated.
 */
export const byHand = (session: Session, time: Seconds): Session =>
  time < HOLDS_LAST_S ? session : { ...session, holds: [] };

/** Keeps the frame at which the run was stopped; `by` is the name of a signal, or empty. */
export const stoppedAt = (session: Session, frame: Frame, by: string): Change =>
  write(session, courseOf(session, nextOf(session, frame), "stopped", by));

/**
 * Where the run goes on when it is broken off now: for what moves at `frame`, the one that was out, counted from 0; else at the
 * beginning of the step that what is open is about.
 */
export const nextOf = (session: Session, frame: number): Next => {
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
  const open = view.steps.findIndex(({ judged }, at) => judged === undefined && !isWaitSpared(view, at));
  return open < 0 ? view.steps.length - 1 : open;
};

/**
 * Ends a break: the area is asked about first. After a freeze it goes on at the same frame,
 * after being away the step starts again.
 */
export const endPause = (session: Session, stage: StageOf<"paused">, input: Stamped): Change => {
  if (input.kind !== "go-on" && input.kind !== "confirm") return stay(session);
  const next: Next = stage.why === "away" ? { ...stage.next, frame: 0 } : stage.next;
  const what = stage.why === "away" ? "back-again" : "went-on";
  return andThen(write({ ...session, trouble: undefined }, courseOf(session, next, what)), (s) => towards(s, next));
};
