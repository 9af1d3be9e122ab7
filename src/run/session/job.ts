import type { Bench } from "../../data/bench/bench.ts";
import type { Profile } from "../../data/profile/profile.ts";
import type { Sequence, Step } from "../../data/sequence/sequence.ts";
import type { People } from "../../data/shop/shop.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import type { Learned } from "../../diagnosis/model/shop.ts";
import type { Constants } from "../../diagnosis/places/constants.ts";
import { type Known, kindOf, knownOf } from "../../diagnosis/places/known.ts";
import { functionWords } from "../../domain/trade/functions.ts";
import { ROUTINES } from "../../domain/trade/routines.ts";
import type { Frame } from "../../domain/units.ts";
import type { CompiledStep, Timeline } from "../../plan/timeline.ts";
import type { BodyOf } from "../events/event.ts";
import type { History } from "../release/history.ts";

/** What a run is to do: everything that does not change while it lasts. */
export interface Job {
  readonly timeline: Timeline;
  readonly sequence: Sequence;
  readonly bench: Bench;
  /** The opening event, which carries fixture, texts and fingerprints into the journal. */
  readonly opening: BodyOf<"run-opened">;
  /** The announced slow movement that comes before anything at full speed, where nothing is known of where it stands. */
  readonly slowStart: CompiledStep;
  /** Other modes and kinds that the fixture may be set to when the wrong thing moves. */
  readonly otherModes: readonly Profile[];
  /** What the shop's own finds have taught. */
  readonly learned: Learned;
  /** How quick people press and how late fixtures follow, as far as earlier presses tell. */
  readonly constants: Constants;
  /** All that this fixture has, by the profiles of all its runs: none of it is forgotten because a smaller mode runs today. */
  readonly fitted: readonly Fitted[];
  /** Who may sign and measure here. */
  readonly people: People;
  /** What was written of this fixture before this run. */
  readonly past: History;
  /** What stays to be done before the fixture can be signed off is shown at the end. */
  readonly ends: "with a signature" | "with the job sheet";
}

/** Whether time counts in frames: a simulated fixture is late for nobody. */
export const livesByFrames = ({ opening }: Job): boolean => opening.output === "sim";

/** The job with one step more at its end, compiled and as it is written. */
export const withStep = (job: Job, step: CompiledStep, written: Step): Job => ({
  ...job,
  sequence: { ...job.sequence, steps: [...job.sequence.steps, written] },
  timeline: { ...job.timeline, steps: [...job.timeline.steps, step] },
});

/** What is known of whoever watches now, at this kind of fixture. */
export const knownIn = ({ job, person }: { readonly job: Job; readonly person: string }): Known =>
  knownOf(job.constants, person, kindOf({ name: job.timeline.profile.name, simulated: job.opening.simulated }));

/** The compiled step at `index`, its place in the run, from 0. Throws "Bug: ..." where there is none. */
export const stepAt = (job: Job, index: number): CompiledStep => {
  const step = job.timeline.steps[index];
  if (!step) throw new Error(`Bug: no step ${index} in ${job.timeline.sequence}`);
  return step;
};

/** Where to go on: a step, from one of its frames; `lost` when its line was lost on the way. */
export interface Next {
  readonly index: number;
  readonly frame: Frame;
  readonly pace: number;
  readonly lost: boolean;
}

/** The functions of a step in words: "pan and tilt", "cyan, magenta and yellow", "the whole fixture". */
export const functionsInWords = ({ functions }: Pick<CompiledStep, "functions">): string => {
  const words = functions.map(functionWords);
  if (words.length === 0) return "the whole fixture";
  return words.length === 1 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
};

/** A step in words: its functions, and what they do. */
export const stepInWords = (step: Pick<CompiledStep, "functions" | "routine">): string =>
  `${functionsInWords(step)}: ${ROUTINES[step.routine].words}`;
