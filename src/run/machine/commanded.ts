import type { Raw } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Frame } from "../../domain/units.ts";
import { rawAt } from "../../plan/sample.ts";
import { fromStored } from "../../plan/stored.ts";
import type { CompiledStep, Timeline } from "../../plan/timeline.ts";
import type { BodyOf, EventBody } from "../events/event.ts";

/** Where a fixture stands, as it was last commanded by a frame that went out: in which step, and at which of its frames. */
export interface StandsAt {
  readonly step: CompiledStep;
  readonly frame: Frame;
}

/** What a fixture was commanded to do in this run. */
export interface Commanded {
  /** Undefined where nothing was sent yet. */
  readonly stands: StandsAt | undefined;
  /** The step that plays, also where none of its frames is out yet. */
  readonly plays: CompiledStep | undefined;
}

export const NOTHING_COMMANDED: Commanded = { stands: undefined, plays: undefined };

/**
 * What the fixture is commanded to do when an input comes: `out` is the frame that was out then, from 0, "nothing" where none of
 * what plays is out yet, or "the end" where what plays has just come to it and stands there from now on.
 */
export const commandedAt = (before: Commanded, out: Frame | "nothing" | "the end"): Commanded => {
  const { plays } = before;
  if (!plays || out === "nothing") return before;
  return out === "the end"
    ? { stands: { step: plays, frame: plays.frames }, plays: undefined }
    : { stands: { step: plays, frame: out }, plays };
};

/**
 * What the fixture is commanded to do after an effect: `asked` is the step that it plays now, or "dark" where it was told to hold.
 * A step that was asked for has moved nothing before a frame of it is out.
 */
export const commandedBy = (now: Commanded, asked: CompiledStep | "dark" | undefined): Commanded => {
  if (asked === undefined || (asked === "dark" && !now.plays)) return now;
  return { stands: now.stands, plays: asked === "dark" ? undefined : asked };
};

/** Raw values of every function where it was last commanded to stand. */
export const standingAt = ({ step, frame }: StandsAt): ReadonlyMap<FunctionId, Raw> =>
  new Map([...step.start.keys()].map((id) => [id, rawAt(step, id, frame)] as const));

/**
 * Where the fixture was last commanded to stand when this run was left, by its events. Undefined where they do not say it:
 * nothing was played, or the program was killed. Whether it is still there nobody knows.
 */
export const leftAt = ({ profile, steps }: Timeline, earlier: readonly EventBody[]): StandsAt | undefined => {
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
  return last && left !== undefined ? { step: last, frame: Math.min(left, last.frames) } : undefined;
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
