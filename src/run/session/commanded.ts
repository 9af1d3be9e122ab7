import type { Raw } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Frame } from "../../domain/units.ts";
import { rawAt } from "../../plan/sample.ts";
import type { CompiledStep } from "../../plan/timeline.ts";

/** Where a fixture was last told to stand in this run: in which step, and at which of its frames. */
export interface Commanded {
  readonly step: CompiledStep;
  readonly frame: Frame;
  /** It is playing: the frame of the next input says how far it has come. */
  readonly plays: boolean;
}

interface Heard {
  readonly kind: string;
  readonly frame: Frame;
}

/** As it is when an input comes, which says what frame was out; undefined while nothing was sent. */
export const commandedAt = (before: Commanded | undefined, { kind, frame }: Heard): Commanded | undefined =>
  before?.plays ? { ...before, frame: kind === "played" ? before.step.frames : frame } : before;

/** As it is after an effect: `play` is the step that it plays now, "dark" where it was told to hold. */
export const commandedBy = (now: Commanded | undefined, asked: CompiledStep | "dark" | undefined) => {
  if (asked === undefined) return now;
  if (asked !== "dark") return { step: asked, frame: 0, plays: true };
  return now && { ...now, plays: false };
};

/** Raw values of every function where it was last told to stand. */
export const standingAt = ({ step, frame }: Commanded): ReadonlyMap<FunctionId, Raw> =>
  new Map([...step.start.keys()].map((id) => [id, rawAt(step, id, frame)] as const));
