import { type Moved, whatMoved } from "../../data/rack/what-moved.ts";
import type { Step } from "../../data/sequence/sequence.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Seconds } from "../../domain/units.ts";
import { compileStep, settingAfter } from "../../plan/compile.ts";
import { plannedStep } from "../../plan/stored.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { Stamped } from "../machine/input.ts";
import { andThen, stay, withEffects } from "../machine/running.ts";
import { attemptAt, type Change, write } from "./change.ts";
import { knownIn, livesByFrames, type Next, stepAt, stepInWords } from "./job.ts";
import { judgeStep } from "./judging.ts";
import { type Played, questionOf, type Session, type StageOf } from "./session.ts";

/** Plays a step from a frame: a fresh attempt from frame 0, the same attempt when it only goes on. */
export const play = (session: Session, next: Next): Change => {
  const planned = stepAt(session.job, next.index);
  const paced = next.pace === 1 ? planned : atPace(session, next);
  const step = paced.fitted ? paced : planned;
  const before = session.view.steps[next.index]?.attempt ?? 0;
  const attempt = next.frame === 0 ? before + 1 : before;
  const started =
    next.frame === 0
      ? write(session, { kind: "step-started", step: step.id, attempt, pace: next.pace, ...unplanned(session, step) })
      : stay(session);
  return andThen(started, (s) => {
    const stage: StageOf<"moving"> = {
      kind: "moving",
      index: next.index,
      attempt,
      step,
      since: s.now,
      lost: next.lost,
    };
    const moving: Session = { ...s, stage, holds: s.holds.filter((point) => point !== "still") };
    return withEffects(
      moving,
      { kind: "say", words: `${stepInWords(step)}. ${step.watch}.` },
      { kind: "play", key: questionOf(moving) ?? "", step, from: next.frame },
    );
  });
};

/** Kept with the attempt, so that its frames can be sent, and its presses placed, again. */
const unplanned = ({ job }: Session, step: CompiledStep) =>
  step.pace === 1 ? {} : { played: plannedStep(job.timeline.profile, step) };

/** The same step more slowly is another compiled step, from where the one before it ends. */
const atPace = ({ job }: Session, { index, pace }: Next): CompiledStep => {
  const { profile, steps } = job.timeline;
  const before = steps.slice(0, index).findLast(({ fitted }) => fitted);
  const step = job.sequence.steps[index] ?? asWritten(steps[index]);
  return compileStep(profile, job.bench, step, before ? settingAfter(before) : profile.rest, pace);
};

/** A step that was added in the course of the run has no options of its own. */
const asWritten = (step: CompiledStep | undefined): Step => {
  if (!step) throw new Error("Bug: no such step");
  const { id, routine, functions, line } = step;
  return { id, routine, functions, line, options: {} };
};

/** A dropped or late frame is one that a person could take for a jerk of the fixture. */
const VISIBLY_LATE_S = 0.025;
const MOST_ATTEMPTS_BY_ITSELF = 3;

/**
 * Takes that a step has been played to its end: what the computer itself did wrong
 * comes before any judgement of the fixture.
 */
export const played = (
  session: Session,
  stage: StageOf<"moving">,
  input: Extract<Stamped, { kind: "played" }>,
): Change => {
  const { worstLate, dropped } = input.rig;
  const unpunctual = !livesByFrames(session.job) && (dropped > 0 || worstLate >= VISIBLY_LATE_S);
  const misbehaved = stage.lost || (unpunctual && obeysFrames(stage));
  const entry: Played = { index: stage.index, start: stage.since, end: session.now, rig: input.rig, lost: stage.lost };
  const lit = stage.step.routine === "power-up" || session.litSince === undefined ? session.now : session.litSince;
  const s: Session = {
    ...session,
    litSince: lit,
    group: [...session.group.filter(({ index }) => index !== stage.index), entry],
  };
  if (!misbehaved) return stay(s);
  return andThen(judgeStep(s, entry, "repeat", [], "", "no"), (judged) =>
    stage.attempt < MOST_ATTEMPTS_BY_ITSELF
      ? andThen(withEffects(judged, { kind: "say", words: "Computer too slow: step repeated." }), (again) =>
          play(again, { index: stage.index, frame: 0, pace: stage.step.pace, lost: false }),
        )
      : stay(judged),
  );
};

/** Nothing else could have been late: it stood still, or homed by itself and was deaf. */
const obeysFrames = ({ step }: StageOf<"moving">): boolean => step.moves.length > 0 && step.routine !== "power-up";

/**
 * Keeps a press while the fixture moves, with its frame and time; in the first moments, with the beam
 * still shut, it belongs to the step before.
 */
export const press = (session: Session, stage: StageOf<"moving">, input: Stamped): Change => {
  const last = session.group.at(-1);
  const soon = last !== undefined && isSoonAfter(session, last) && input.after <= lateFor(session);
  const before = input.frame < stage.step.leadIn || soon;
  if (before && last && last.index !== stage.index) return pressAfter(session, last, input);
  return keepPress(session, { ...input, step: stage.step.id, attempt: stage.attempt });
};

/** A press as it is kept: in which attempt at which step, and when in it. */
interface KeptPress extends Pick<Stamped, "frame" | "after"> {
  readonly step: string;
  readonly attempt: number;
  /** Only for what came over the air: how far off it may be. */
  readonly way?: { readonly give: Seconds } | undefined;
}

/** Keeps a press. `frame` counts from 0 in the step, `after` is in seconds since its frame 0. */
export const keepPress = (session: Session, { step, attempt, frame, after, way }: KeptPress): Change =>
  write(session, { kind: "pressed", step, attempt, frame, after_s: after, ...(way ? { give_s: way.give } : {}) });

/** How long after the last frame a press was still meant for what was moving. People take 0.3 to 0.6 s. Judgement. */
export const LATE_PRESS_S: Seconds = 0.7;

/** How late a press may come: as long as this person is known to take, where that is longer. */
const lateFor = (session: Session): Seconds => Math.max(LATE_PRESS_S, knownIn(session).quickness.mean);
const isSoonAfter = (session: Session, { end }: Played): boolean => session.now - end <= lateFor(session);

/**
 * Keeps a press at a question that has just appeared: it still belongs to the step that ended. Undefined where the step
 * ended too long ago, or was judged meanwhile.
 */
export const pressAtQuestion = (session: Session, input: Stamped): Change | undefined => {
  const last = session.group.at(-1);
  if (!last || session.view.steps[last.index]?.judged || !isSoonAfter(session, last)) return undefined;
  return pressAfter(session, last, { ...input, frame: 0 });
};

/**
 * Keeps a press that named a step which ended in that very moment: it still belongs to that
 * step, unless it was judged meanwhile.
 */
export const pressTooLate = (session: Session, input: Extract<Stamped, { kind: "press" }>): Change => {
  const last = session.group.at(-1);
  const view = last && session.view.steps[last.index];
  if (!last || !view || view.judged || input.answers !== `${last.index}.${view.attempt}`) return stay(session);
  return pressAfter(session, last, input);
};

const pressAfter = (session: Session, last: Played, { frame, way }: Stamped): Change => {
  const { id, frames } = stepAt(session.job, last.index);
  const attempt = attemptAt(session, last.index);
  return keepPress(session, { step: id, attempt, frame: frames + frame, after: session.now - last.start, way });
};

/**
 * Keeps a press that came over the air, for the attempt that was out when it was made, wherever the run has
 * come since: it may have been on its way while the step ended, or have waited until the connection was
 * back. What was judged meanwhile stays.
 */
export const pressOnItsWay = (session: Session, input: Stamped, { key, ago }: NonNullable<Stamped["way"]>): Change => {
  const { now, stage } = session;
  const then: Session = { ...session, now: now - ago };
  const [after, effects] =
    stage.kind === "moving" && key === questionOf(session)
      ? press(then, stage, input)
      : (pressInAttempt(then, input, key) ?? pressAtQuestion(then, input) ?? stay(then));
  return [{ ...after, now }, effects];
};

/** The attempt that is named as a question names it. */
const pressInAttempt = (session: Session, input: Stamped, key: string): Change | undefined => {
  const [index = "", attempt = ""] = key.split(".");
  const step = session.view.steps[Number(index)];
  if (!/^\d+\.\d+$/.test(key) || !step || step.judged) return undefined;
  return keepPress(session, { ...input, step: step.id, attempt: Number(attempt) });
};

/** What the answers so far say of how the fixture is set, and which function would tell most if it were moved. */
export const concluded = ({ job }: Session, answers: readonly Moved[]) =>
  whatMoved(job.timeline.profile, job.otherModes, job.opening.fixture.address, answers);

/** Moves a little the function whose answer tells most. `index` is the step's place in the run, from 0. */
export const stir = (session: Session, index: number, answers: readonly Moved[]): Change => {
  const { job } = session;
  const { profile } = job.timeline;
  const { ask } = concluded(session, answers);
  if (ask === undefined) throw new Error("Bug: nothing is left to be stirred");
  const stirring: Session = { ...session, stage: { kind: "stirring", index, ask, answers } };
  const step = compileStep(profile, job.bench, stirOf(ask), profile.rest, 1);
  return withEffects(stirring, { kind: "play", key: questionOf(stirring) ?? "", step, from: 0 });
};

const stirOf = (id: FunctionId) =>
  ({ id: `stir-${id}`, routine: "identify", functions: [id], options: {}, line: 0 }) as const;
