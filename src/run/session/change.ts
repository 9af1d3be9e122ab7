import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import type { Frame } from "../../domain/units.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { BodyOf, EventBody } from "../events/event.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import { apply } from "../events/view.ts";
import type { Findings } from "../machine/diagnose.ts";
import { type Changed, type SharedEffect, stay } from "../machine/running.ts";
import type { HandTask } from "./by-hand/task.ts";
import { type Next, stepAt } from "./job.ts";
import type { Session } from "./session.ts";

/** The next session and what it wants of the world. */
export type Change = Changed<Session, SessionEffect>;

/** What a session wants of the world. The shell carries effects out; their outcomes come back as inputs. */
export type SessionEffect =
  | SharedEffect
  /** Once at the start, where a failure ends the run; after a loss until it succeeds. */
  | {
      readonly kind: "open-line";
      readonly patience: "once" | "until-open";
      /** The interface that was used before, or that a person has agreed to. */
      readonly known: InterfaceIdentity | undefined;
    }
  /** Play a step from a frame to its end; `key` comes back with "played". */
  | { readonly kind: "play"; readonly key: string; readonly step: CompiledStep; readonly from: Frame }
  /** The person has switched the mains on: only the simulated fixture needs telling. */
  | { readonly kind: "mains-on" }
  /** The person has switched the mains off: only the simulated fixture needs telling. */
  | { readonly kind: "mains-off" }
  /** The person has repaired this: only the simulated fixture needs telling. */
  | { readonly kind: "mended"; readonly fault: FaultId }
  /** `count` is how many events the run has with this one. */
  | { readonly kind: "write"; readonly body: EventBody; readonly person: string; readonly count: number }
  /** What may be wrong, worked out on another thread; `key` comes back with "diagnosed". */
  | { readonly kind: "diagnose"; readonly key: string; readonly findings: Findings };

/** Puts an event in the journal: known to the session at once, shown as kept when it is on disk. */
export const write = (session: Session, body: EventBody): Change => {
  const view = apply(session.view, body);
  return [
    { ...session, view, told: [...session.told, body] },
    [{ kind: "write", body, person: session.person, count: view.count }],
  ];
};

/** Which attempt at a step this is, from 1. `index` is the step's place in the run, from 0. */
export const attemptAt = ({ view }: Session, index: number): number => Math.max(1, view.steps[index]?.attempt ?? 1);

/**
 * What a person or the world changed in the course of a run, as an event. `index` is the place of the step it happened in,
 * from 0, and `frame` the frame at which it did. `detail` is in words, "" where there is nothing more to say.
 */
export const courseOf = (
  session: Session,
  { index, frame }: Pick<Next, "index" | "frame">,
  what: BodyOf<"course-changed">["what"],
  detail = "",
): BodyOf<"course-changed"> => ({
  kind: "course-changed",
  step: stepAt(session.job, index).id,
  attempt: attemptAt(session, index),
  frame,
  what,
  detail,
});

/** The session with this task on its page. */
export const at = (session: Session, task: HandTask): Change => stay({ ...session, stage: { kind: "by-hand", task } });
