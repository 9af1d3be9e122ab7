import { bad, problem, type Result } from "../problem/problem.ts";
import type { Job } from "../session/job.ts";
import { compile } from "../timeline/compile.ts";
import { fingerprint } from "../timeline/fingerprint.ts";
import { slowStart } from "../timeline/plan.ts";
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

/** A run ready to begin: compiled, fingerprinted, with the texts it was made from; or why it cannot be run. */
export const jobFor = ({ profile, sequence, bench }: Material, order: Order): Result<Job> => {
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
  const steps = timeline.steps.map((step) => ({
    id: step.id,
    routine: step.routine,
    functions: [...step.functions],
    frames: step.frames,
    fingerprint: step.fitted ? fingerprint(profile.value, step) : "",
  }));
  return {
    ok: true,
    value: {
      timeline,
      sequence: sequence.value,
      bench: bench.value,
      slowStart: slowStart(profile.value, bench.value),
      opening: {
        kind: "run-opened",
        fixture: { serial: order.serial, universe: order.universe, address: order.address },
        profile: { name: profile.value.name, text: profile.text },
        sequence: { name: sequence.value.name, text: sequence.text },
        bench: { name: bench.value.name, text: bench.text },
        steps,
        output: order.output,
        simulated: order.simulated,
        set: [...order.set],
        mode: order.mode,
        ...(order.replays === undefined ? {} : { replays: order.replays }),
      },
    },
  };
};
