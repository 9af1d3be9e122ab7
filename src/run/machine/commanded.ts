import type { Raw } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Frame } from "../../domain/units.ts";
import { rawAt } from "../../plan/sample.ts";
import { fromStored } from "../../plan/stored.ts";
import type { CompiledStep, Timeline } from "../../plan/timeline.ts";
import type { BodyOf, EventBody } from "../events/event.ts";

/** Where a fixture was last commanded to stand in this run: in which step, and at which of its frames. */
export interface Commanded {
  readonly step: CompiledStep;
  readonly frame: Frame;
  /** It is playing: the frame of the next input says how far it has come. */
  readonly plays: boolean;
  /** Where it stood when this was asked for; not looked at any more once a frame of it is out. */
  readonly stood?: Commanded | undefined;
  /** Nothing of it is out yet. */
  readonly unsent?: boolean;
}

/**
 * What the fixture is commanded to do when an input comes: `out` is the frame that was out then, from 0, "nothing" where none of
 * what plays is out yet, or "the end" where what plays has just come to it and stands there from now on. Undefined while nothing
 * was sent.
 */
export const commandedAt = (
  before: Commanded | undefined,
  out: Frame | "nothing" | "the end",
): Commanded | undefined => {
  if (!before?.plays || out === "nothing") return before;
  const { step } = before;
  return out === "the end" ? { step, frame: step.frames, plays: false } : { step, frame: out, plays: true };
};

/**
 * What the fixture is commanded to do after an effect: `asked` is the step that it plays now, or "dark" where it was told to hold.
 * A step that was asked for and of which nothing went out has moved nothing: it stands where it stood before.
 */
export const commandedBy = (now: Commanded | undefined, asked: CompiledStep | "dark" | undefined) => {
  if (asked === undefined) return now;
  const stood = now?.unsent ? now.stood : now && { step: now.step, frame: now.frame, plays: false };
  return asked === "dark" ? stood : { step: asked, frame: 0, plays: true, stood, unsent: true };
};

/** Raw values of every function where it was last commanded to stand. */
export const standingAt = ({ step, frame }: Commanded): ReadonlyMap<FunctionId, Raw> =>
  new Map([...step.start.keys()].map((id) => [id, rawAt(step, id, frame)] as const));

/**
 * Where the fixture was last commanded to stand when this run was left, by its events. Undefined where they do not say it:
 * nothing was played, or the program was killed. Whether it is still there nobody knows.
 */
export const leftAt = ({ profile, steps }: Timeline, earlier: readonly EventBody[]): Commanded | undefined => {
  let last: CompiledStep | undefined;
  let left: Frame | undefined;
  for (const body of earlier) {
    if (body.kind === "step-started") {
      last = body.played ? fromStored(profile, body.played) : steps.find(({ id }) => id === body.step);
      left = undefined;
    } else if (body.kind === "step-judged" && body.step === last?.id) left = last.frames;
    else if (body.kind === "course-changed") left = leftBy(body, last, left);
    else if (body.kind === "run-closed") left ??= last?.frames;
  }
  return last && left !== undefined ? { step: last, frame: Math.min(left, last.frames), plays: false } : undefined;
};

const BREAKS_OFF: readonly BodyOf<"course-changed">["what"][] = ["stopped", "frozen", "away", "line-lost", "gone-back"];

/** A step that was asked about, and a stop before the next one, say frame 0: what was played had come to its end. */
const leftBy = (
  { what, step, frame }: BodyOf<"course-changed">,
  last: CompiledStep | undefined,
  left: Frame | undefined,
): Frame | undefined => {
  // Off to the place of a fault, which is in no step.
  if (what === "returned" || what === "nudged") return undefined;
  if (!BREAKS_OFF.includes(what)) return left;
  return step === last?.id && frame > 0 ? frame : (left ?? last?.frames);
};
