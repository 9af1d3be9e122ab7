import type { Deed } from "../batch/wish.ts";
import { outputName } from "../bench/output.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import type { OpenedLine } from "../run/doors.ts";
import { onlooker } from "../sim/onlooker/onlooker.ts";
import { SimulatedWatcher } from "../sim/watcher.ts";
import { addressProblems, type Material } from "./data.ts";
import { lineOn, onUniverse, outputFor, type RealOutput } from "./lines.ts";
import { type SimBench, simBench } from "./sim-bench.ts";

/** What stands at the other end of the DMX line, real or simulated. */
export interface Rig {
  /** In one text, for the record. */
  readonly output: string;
  readonly simulated: boolean;
  readonly set: readonly string[];
  readonly open: () => Promise<OpenedLine>;
  readonly byHand: (deed: Deed) => void;
  /** The simulated watcher, where one was asked for. */
  readonly watcher: SimulatedWatcher | undefined;
  readonly bench: SimBench | undefined;
}

export interface RigOptions {
  /** Empty when not said. */
  readonly output: string;
  readonly to: string | undefined;
  readonly set: readonly string[] | undefined;
  readonly watcher: number | undefined;
  readonly fast: boolean;
}

export const rigFor = (options: RigOptions, material: Material, address: number, universe: number): Result<Rig> => {
  const wrong = addressProblems(material.profile.value, address, universe);
  const output = outputFor(options, material.bench.value, universe);
  if (!output.ok || wrong.length > 0) return bad(...wrong, ...(output.ok ? [] : output.problems));
  return output.value.kind === "sim"
    ? simulatedRig(options, material, address, universe)
    : realRig(options, output.value, universe, address + material.profile.value.slots - 1);
};

const simulatedRig = (options: RigOptions, material: Material, address: number, universe: number): Result<Rig> => {
  if (options.fast && options.watcher === undefined)
    return bad(
      problem("--fast", "nobody can watch in no real time", "--watcher SEED lets the simulated watcher watch"),
    );
  const seed = options.watcher ?? 1;
  const made = simBench(material, { address, set: options.set ?? [], seed, drawFrom: "all" });
  if (!made.ok) return made;
  const { line, build, set, hands } = made.value;
  return good({
    output: "sim",
    simulated: true,
    set,
    open: () => onUniverse(universe, line),
    byHand: hands.did,
    watcher: options.watcher === undefined ? undefined : new SimulatedWatcher(line, onlooker(build, seed), 0, hands),
    bench: made.value,
  });
};

const realRig = (options: RigOptions, output: RealOutput, universe: number, lastSlot: number): Result<Rig> => {
  const needsSim = [
    ...(options.watcher === undefined ? [] : ["--watcher"]),
    ...(options.fast ? ["--fast"] : []),
    ...(options.set === undefined || options.set.length === 0 ? [] : ["--set"]),
  ];
  if (needsSim.length > 0)
    return bad(...needsSim.map((option) => problem(option, "only on the simulated bench", "--output sim")));
  return good({
    output: outputName(output),
    simulated: false,
    set: [],
    open: async () => onUniverse(universe, await lineOn(output, lastSlot)),
    byHand: () => {},
    watcher: undefined,
    bench: undefined,
  });
};
