import { type Learned, NOTHING_LEARNED } from "../faults/shop.ts";
import { type Constants, NOTHING_MEASURED } from "../presses/constants.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import type { Profile } from "../profile/profile.ts";
import type { Job } from "../session/job.ts";
import { compile } from "../timeline/compile.ts";
import { slowStart } from "../timeline/plan.ts";
import { fromStored, plannedStep, type StoredStep } from "../timeline/stored.ts";
import type { Timeline } from "../timeline/timeline.ts";
import { addressProblems, type Material } from "./data.ts";

export interface Order {
  readonly serial: string;
  readonly universe: number;
  readonly address: number;
  readonly output: string;
  readonly simulated: boolean;
  readonly set: readonly string[];
  readonly mode: "attended" | "hands-off";
  readonly replays: string | undefined;
}

/** What is known besides the order: what else the fixture may be set to, and what the shop has learned. */
export const knowing = (
  job: Job,
  otherModes: readonly Profile[],
  learned: Learned,
  constants: Constants = NOTHING_MEASURED,
): Job => ({ ...job, otherModes, learned, constants });

/** A run ready to begin: compiled, fingerprinted, with the texts it was made from; or why it cannot be run. */
export const jobFor = (material: Material, order: Order): Result<Job> => {
  const { profile, sequence, bench } = material;
  const wrong = addressProblems(profile.value, order.address, order.universe);
  if (wrong.length > 0) return bad(...wrong);
  const timeline = compile(profile.value, sequence.value, bench.value);
  if (timeline.steps.every(({ fitted }) => !fitted))
    return bad(
      problem(
        sequence.value.name,
        `no step of this sequence fits anything that "${profile.value.name}" has`,
        "limber sequence show prints what fits",
      ),
    );
  return good(jobWith(material, timeline, order));
};

/** The same for steps that were compiled before, as the journal keeps them: a replay, or a run that goes on. */
export const jobFromStored = (material: Material, steps: readonly StoredStep[], order: Order): Job => {
  const { profile, sequence } = material;
  const timeline = {
    profile: profile.value,
    sequence: sequence.value.name,
    steps: steps.map((step) => fromStored(profile.value, step)),
  };
  return jobWith(material, timeline, order);
};

const jobWith = ({ profile, sequence, bench }: Material, timeline: Timeline, order: Order): Job => ({
  timeline,
  otherModes: [],
  learned: NOTHING_LEARNED,
  constants: NOTHING_MEASURED,
  past: [],
  ends: sequence.value.byHand.length > 0 || order.replays !== undefined ? "with a signature" : "with the job sheet",
  sequence: sequence.value,
  bench: bench.value,
  slowStart: slowStart(profile.value, bench.value),
  opening: {
    kind: "run-opened",
    fixture: { serial: order.serial, universe: order.universe, address: order.address },
    profile: { name: profile.value.name, text: profile.text },
    sequence: { name: sequence.value.name, text: sequence.text },
    bench: { name: bench.value.name, text: bench.text },
    steps: timeline.steps.map((step) => plannedStep(profile.value, step)),
    output: order.output,
    simulated: order.simulated,
    set: [...order.set],
    mode: order.mode,
    ...(order.replays === undefined ? {} : { replays: order.replays }),
  },
});
