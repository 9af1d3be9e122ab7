import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import { type Attempt, attemptsAfter, type RigOfRun, rigAfter, STEADY_RIG } from "./attempts.ts";
import type { ByHandBody } from "./by-hand.ts";
import type { BodyOf, EventBody } from "./event.ts";
import type { InterfaceIdentity } from "./interface-met.ts";

/** What is known of a run after the events so far. Derived, disposable: the events are the truth. */
export interface RunView {
  readonly opened: BodyOf<"run-opened"> | undefined;
  /** In the order of the sequence. */
  readonly steps: readonly StepView[];
  /** Those of these steps that were added in the course of the run, as they were compiled. */
  readonly added: readonly Planned[];
  /** Hold points confirmed, in order. */
  readonly confirmed: readonly BodyOf<"hold-confirmed">[];
  readonly course: readonly BodyOf<"course-changed">[];
  readonly identified: readonly BodyOf<"identified">[];
  /** In practice: what there was to be noticed. */
  readonly shown: readonly BodyOf<"shown">[];
  /** Inspections, the latest answer last. */
  readonly inspected: readonly BodyOf<"inspected">[];
  /** How dirty it came back, as far as somebody has said so. */
  readonly dirt: BodyOf<"dirt-judged">["dirt"] | undefined;
  readonly cleaned: readonly BodyOf<"cleaned">[];
  readonly readings: readonly BodyOf<"reading-taken">[];
  /** What the fixture said of itself, the latest last. */
  readonly said: readonly BodyOf<"fixture-said">[];
  /** Its sensors while it was at work. */
  readonly followed: readonly BodyOf<"sensors-followed">[];
  readonly photos: readonly BodyOf<"photo-taken">[];
  readonly found: readonly BodyOf<"found">[];
  readonly repaired: readonly BodyOf<"repaired">[];
  /** Signed back, held back, lifted, a second opinion, another kind, the latest last; whether it counts is decided by the rules of release. */
  readonly decisions: readonly Decision[];
  readonly rig: RigOfRun;
  /** The interface that was used last, as far as it could be told. */
  readonly interface: InterfaceIdentity | undefined;
  /** Set aside, and not touched since. */
  readonly aside: BodyOf<"set-aside"> | undefined;
  readonly closed: BodyOf<"run-closed">["how"] | undefined;
  /** How many events were applied. */
  readonly count: number;
}

/** What a person decided about the fixture as a whole. */
export type Decision = BodyOf<"signed-off" | "quarantined" | "hold-lifted" | "second-opinion" | "kind-changed">;

export interface StepView {
  readonly id: string;
  readonly routine: RoutineId;
  readonly functions: readonly FunctionId[];
  readonly fingerprint: string;
  /** 0: never started. */
  readonly attempt: number;
  readonly pace: number;
  /** The presses of the latest attempt. */
  readonly presses: Attempt["presses"];
  readonly attempts: readonly Attempt[];
  readonly judged: BodyOf<"step-judged"> | undefined;
  /** The number of the event that judged it: shown as kept once that many are on disk. */
  readonly judgedBy: number;
}

export const emptyRun: RunView = {
  opened: undefined,
  steps: [],
  added: [],
  confirmed: [],
  course: [],
  identified: [],
  shown: [],
  inspected: [],
  dirt: undefined,
  cleaned: [],
  readings: [],
  said: [],
  followed: [],
  photos: [],
  found: [],
  repaired: [],
  decisions: [],
  rig: STEADY_RIG,
  interface: undefined,
  aside: undefined,
  closed: undefined,
  count: 0,
};

/** What is known of a run after one more event. */
export const apply = (run: RunView, body: EventBody): RunView => {
  const next: RunView = { ...run, aside: undefined, count: run.count + 1 };
  switch (body.kind) {
    case "run-opened":
      return { ...next, opened: body, steps: body.steps.map(freshStep) };
    case "step-added":
      return { ...next, steps: [...run.steps, freshStep(body.step)], added: [...run.added, body.step] };
    case "step-started":
    case "pressed":
    case "press-corrected":
    case "step-corrected":
      return onStep(next, body);
    case "step-judged":
      return onStep({ ...next, rig: rigAfter(run.rig, body) }, body);
    case "course-changed":
      return onStep({ ...next, course: [...run.course, body] }, body);
    case "identified":
      return { ...next, identified: [...run.identified, body] };
    case "shown":
      return { ...next, shown: [...run.shown, body] };
    case "fixture-said":
      return { ...next, said: [...run.said, body] };
    case "sensors-followed":
      return { ...next, followed: [...run.followed, body] };
    case "interface-met":
      return { ...next, interface: body.identity };
    case "run-closed":
      return { ...next, closed: body.how };
    case "set-aside":
      return { ...next, aside: body };
    // Of a rack run: `rack-view` reads them.
    case "rack-opened":
    case "group-started":
    case "fixture-withdrawn":
    case "fixture-swapped":
    case "address-set":
    case "rack-course":
    case "who-moved":
    case "press-unnamed":
      return next;
    default:
      return byHand(next, body);
  }
};

type StepEvent = BodyOf<
  "step-started" | "pressed" | "press-corrected" | "step-judged" | "step-corrected" | "course-changed"
>;

/** With the step that an event speaks of as that event leaves it. */
const onStep = (run: RunView, body: StepEvent): RunView => ({
  ...run,
  steps: run.steps.map((step) => (step.id === body.step ? stepAfter(step, body, run.count) : step)),
});

const stepAfter = (step: StepView, body: StepEvent, count: number): StepView => {
  if (body.kind === "step-corrected") return { ...step, judged: undefined };
  const attempts = attemptsAfter(step.attempts, body);
  switch (body.kind) {
    case "step-started":
      return { ...step, attempt: body.attempt, pace: body.pace, presses: [], attempts, judged: undefined };
    case "pressed":
    case "press-corrected":
      return { ...step, attempts, presses: attempts.at(-1)?.presses ?? [] };
    case "step-judged":
      return { ...step, attempt: body.attempt, attempts, judged: body, judgedBy: count };
    case "course-changed":
      return { ...step, attempts };
    default:
      return body satisfies never;
  }
};

/** What was done and decided by hand. */
const byHand = (run: RunView, body: Exclude<ByHandBody, { kind: "set-aside" }>): RunView => {
  switch (body.kind) {
    case "hold-confirmed":
      return { ...run, confirmed: [...run.confirmed, body] };
    case "hold-withdrawn":
      return { ...run, confirmed: withoutLast(run.confirmed, ({ point }) => point === body.point) };
    case "inspected":
      return { ...run, inspected: [...run.inspected, body] };
    case "inspection-corrected":
      return { ...run, inspected: withoutLast(run.inspected, ({ inspection }) => inspection === body.inspection) };
    case "dirt-judged":
      return { ...run, dirt: body.dirt };
    case "cleaned":
      return { ...run, cleaned: [...run.cleaned, body] };
    case "cleaning-corrected":
      return { ...run, cleaned: withoutLast(run.cleaned, ({ cleaning }) => cleaning === body.cleaning) };
    case "reading-taken":
      return { ...run, readings: [...run.readings, body] };
    case "reading-corrected":
      return { ...run, readings: withoutLast(run.readings, ({ reading }) => reading === body.reading) };
    case "photo-taken":
      return { ...run, photos: [...run.photos, body] };
    case "found":
      return { ...run, found: [...run.found, body] };
    case "repaired":
      return { ...run, repaired: [...run.repaired, body] };
    case "signed-off":
    case "quarantined":
    case "hold-lifted":
    case "second-opinion":
    case "kind-changed":
      return { ...run, decisions: [...run.decisions, body] };
    default:
      return body satisfies never;
  }
};

/** The answer before it stands again. */
const withoutLast = <T>(answers: readonly T[], fits: (answer: T) => boolean): readonly T[] => {
  const last = answers.findLastIndex(fits);
  return answers.filter((_, index) => index !== last);
};

/** What all events of one run say, in the order of writing. */
export const viewOf = (bodies: readonly EventBody[]): RunView => bodies.reduce(apply, emptyRun);

/** Whether a step was decided on in the course of the run. */
export const isAdded = ({ steps, added }: RunView, index: number): boolean => index >= steps.length - added.length;

export type Planned = BodyOf<"run-opened">["steps"][number];
const freshStep = ({ id, routine, functions, fingerprint }: Planned): StepView => ({
  id,
  routine,
  functions,
  fingerprint,
  attempt: 0,
  pace: 1,
  presses: [],
  attempts: [],
  judged: undefined,
  judgedBy: 0,
});
