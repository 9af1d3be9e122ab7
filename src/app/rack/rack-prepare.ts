import type { Output } from "../../data/bench/output.ts";
import type { Learned } from "../../diagnosis/model/shop.ts";
import { good, type Result } from "../../domain/problem/problem.ts";
import type { DataLibrary } from "../../run/ports.ts";
import type { RackMaterial } from "./rack-data.ts";
import { type RackJob, rackJobFor } from "./rack-job.ts";
import { nameOf, rackOutputs } from "./rack-lines.ts";
import { type SimRack, simRack } from "./rack-sim.ts";

export interface RackWanted {
  readonly run: string;
  readonly person: string;
  readonly learned: Learned;
  /** "sim" makes every line a simulated one; empty: as the rack file says. */
  readonly output: string;
  /** Faults to be set in simulated fixtures, by serial. */
  readonly set: ReadonlyMap<string, readonly string[]>;
  readonly seed: number;
}

/** A rack run and what stands at the other end of its lines. */
export interface ReadyRack {
  readonly job: RackJob;
  readonly outputs: ReadonlyMap<number, Output>;
  readonly sim: SimRack;
  readonly bench: RackMaterial["bench"]["value"];
}

/**
 * A rack run with its lines, ready to be played; or everything that is wrong with the order. `asItStands` gives what has
 * become of the rack in an earlier part of the run.
 */
export const prepareRack = (
  shelf: DataLibrary,
  material: RackMaterial,
  wanted: RackWanted,
  asItStands: (job: RackJob) => RackJob = (job) => job,
): Result<ReadyRack> => {
  const outputs = rackOutputs(material.rack.value, wanted.output);
  if (!outputs.ok) return outputs;
  const outputOf = (universe: number) => nameOf(outputs.value, universe);
  const made = rackJobFor(shelf, { ...wanted, ...material, outputOf });
  if (!made.ok) return made;
  const job = asItStands(made.value);
  const sim = simRack(job.members, wanted.set, wanted.seed);
  if (!sim.ok) return sim;
  return good({ job, outputs: outputs.value, sim: sim.value, bench: material.bench.value });
};
