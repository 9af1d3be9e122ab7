import { type Batch, openBatch } from "../batch/batch.ts";
import { fastClock } from "../clock/fast-clock.ts";
import { NOTHING_LEARNED } from "../faults/shop.ts";
import { silentLog } from "../log/file.ts";
import type { Journal, Shelf } from "../ports.ts";
import { good, type Result } from "../problem/problem.ts";
import { SimulatedRackWatcher } from "../sim/rack-watcher.ts";
import { memoryJournal } from "../store/memory.ts";
import { silentVoice } from "../voice/silent.ts";
import { playRack } from "./play-rack.ts";
import { rackJobFor } from "./rack-job.ts";
import { nameOf, openRackLines, rackOutputs } from "./rack-lines.ts";
import { loadRackMaterial, type RackNames } from "./rack-material.ts";
import { simRack } from "./rack-sim.ts";
import { framesBefore, warmUp } from "./warm-up.ts";

export interface UnattendedRack {
  readonly names: RackNames;
  readonly run: string;
  readonly set: ReadonlyMap<string, readonly string[]>;
  readonly seed: number;
}

export interface WatchedRack {
  readonly ended: Batch;
  readonly journal: Journal;
}

/** One unattended run of a simulated rack, in no real time, watched by the simulated watcher. */
export const simulatedRackRun = async (shelf: Shelf, options: UnattendedRack): Promise<Result<WatchedRack>> => {
  const { names, run, set, seed } = options;
  const material = loadRackMaterial(shelf, names);
  if (!material.ok) return material;
  const outputs = rackOutputs(material.value.rack.value, "sim");
  if (!outputs.ok) return outputs;
  const outputOf = (universe: number) => nameOf(outputs.value, universe);
  const job = rackJobFor(shelf, { ...material.value, run, person: "sim", learned: NOTHING_LEARNED, outputOf, set });
  if (!job.ok) return job;
  const sim = simRack(job.value.members, set, seed);
  if (!sim.ok) return sim;
  const { lines, fixtures, byHand } = sim.value;
  const seen = fixtures.filter((one) => one !== undefined);
  const frames = Math.max(...job.value.members.map(({ session }) => framesBefore(session)));
  for (const line of lines.values()) warmUp(line, frames);
  const journal = memoryJournal();
  const ended = await playRack(openBatch(job.value.plan, job.value.members, "sim"), material.value.bench.value.name, {
    clock: fastClock,
    lines: await openRackLines(outputs.value, lines),
    journal,
    watcher: () => new SimulatedRackWatcher(seen, seed),
    voice: silentVoice,
    log: silentLog,
    byHand,
  });
  return good({ ended, journal });
};
