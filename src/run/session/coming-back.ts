import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import { holdsAfter } from "./by-hand/holds.ts";
import { type Change, write } from "./change.ts";
import { courseOf } from "./course.ts";
import { askForDiagnosis } from "./diagnosing.ts";
import { goOn, towards } from "./flow.ts";
import type { Stamped } from "./input.ts";
import { stepAt } from "./job.ts";
import type { Next } from "./next.ts";
import { play } from "./playing.ts";
import type { Session, Stage } from "./session.ts";
import { takeBack } from "./taking-back.ts";

/**
 * Makes a run wait when nobody is at the bench: dark, the question stays open, and before
 * anything moves again the area is asked about.
 */
export const leave = (session: Session, index: number): Change => {
  const left = uncleared(session);
  const course = courseOf(left, { index, frame: 0 }, "away");
  return andThen(write(left, course), (s) => withEffects(s, { kind: "go-dark" }));
};

/** Takes the answer to a hold point. With the mains the area is confirmed, too, and each is kept. */
export const confirmHold = (session: Session, stage: Extract<Stage, { kind: "holding" }>, input: Stamped): Change => {
  if (input.kind === "undo") return takeBack(session);
  if (input.kind !== "confirm") return stay(session);
  const clear = session.cleared ? stay(session) : write(session, { kind: "hold-confirmed", point: "before-moving" });
  return andThen(clear, (s) => {
    const cleared: Session = { ...s, cleared: true };
    return stage.point === "mains-on" ? mainsOn(cleared, stage.next) : towards(cleared, stage.next, stage.stirs);
  });
};

const mainsOn = (session: Session, next: Next): Change =>
  andThen(write(session, { kind: "hold-confirmed", point: "mains-on" }), (s) =>
    andThen(withEffects({ ...s, holds: holdsAfter(s.holds, "mains-on") }, { kind: "mains-on" }), (on) =>
      play(on, next),
    ),
  );

/**
 * Ends a break: the area is asked about first. After a freeze it goes on at the same frame,
 * after being away the step starts again.
 */
export const endPause = (session: Session, stage: Extract<Stage, { kind: "paused" }>, input: Stamped): Change => {
  if (input.kind !== "go-on" && input.kind !== "confirm") return stay(session);
  const next: Next = stage.why === "away" ? { ...stage.next, frame: 0 } : stage.next;
  const what = stage.why === "away" ? "back-again" : "went-on";
  return andThen(write({ ...session, trouble: undefined }, courseOf(session, next, what)), (s) => towards(s, next));
};

/** Goes on after a lost line is back: one person agrees, then slowly, then on from the same frame. */
export const endLoss = (session: Session, stage: Extract<Stage, { kind: "line-lost" }>, input: Stamped): Change => {
  if (!stage.back || input.kind !== "confirm") return stay(session);
  return andThen(
    write({ ...session, trouble: undefined, cleared: true }, courseOf(session, stage.next, "resumed")),
    (s) => {
      if (stage.asked?.kind === "diagnosing") return askForDiagnosis(s, stage.asked.purpose);
      if (stage.asked) return stay({ ...s, stage: stage.asked });
      return isOver(s, stage.next.index) ? goOn(s) : towards(s, stage.next);
    },
  );
};

/** Nothing of it is to be gone on with: it was answered for, or homes by itself. */
const isOver = ({ job, view }: Session, index: number): boolean =>
  stepAt(job, index).routine === "power-up" || view.steps[index]?.judged !== undefined;
