import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import { good, type Result } from "../../domain/problem/problem.ts";
import { silentLog } from "../../io/log/file.ts";
import { memoryJournal } from "../../io/store/memory.ts";
import { silentVoice } from "../../io/voice/speech.ts";
import { type Batch, openBatch } from "../../run/batch/batch.ts";
import type { DataLibrary, Journal } from "../../run/ports.ts";
import { systemSignals } from "../../run/shell/signals.ts";
import { SimulatedRackWatcher } from "../../sim/rack-watcher.ts";
import { FAST } from "../common/pace.ts";
import { playRack } from "./play-rack.ts";
import { loadRackMaterial, type RackNames } from "./rack-data.ts";
import { openRackLines } from "./rack-lines.ts";
import { prepareRack } from "./rack-prepare.ts";
import { warmUpRack } from "./rack-sim.ts";

export interface UnattendedRack {
  readonly names: RackNames;
  readonly run: string;
  readonly set: ReadonlyMap<string, readonly string[]>;
  readonly seed: number;
  /** Told of every state of the run. */
  readonly shown: (batch: Batch) => void;
}

export interface WatchedRack {
  readonly ended: Batch;
  readonly journal: Journal;
}

/**
 * One unattended run of a simulated rack, faster than real time, watched by the simulated watcher; or
 * everything that is wrong with the order.
 */
export const simulatedRackRun = async (shelf: DataLibrary, options: UnattendedRack): Promise<Result<WatchedRack>> => {
  const material = loadRackMaterial(shelf, options.names);
  if (!material.ok) return material;
  const wanted = { ...options, person: "sim", learned: NOTHING_LEARNED, output: "sim" };
  const ready = prepareRack(shelf, material.value, wanted);
  if (!ready.ok) return ready;
  const { job, outputs, sim, bench } = ready.value;
  warmUpRack(sim, job.members);
  const journal = memoryJournal();
  const ended = await playRack(openBatch(job.plan, job.members, "sim"), bench.name, {
    ...FAST,
    frames: (await openRackLines(outputs, sim.lines, silentLog)).frames,
    journal,
    watcher: () => {
      const watcher = new SimulatedRackWatcher(
        sim.fixtures.filter((one) => one !== undefined),
        options.seed,
      );
      return {
        show: (batch) => {
          options.shown(batch);
          watcher.show(batch);
        },
        listen: (answer) => watcher.listen(answer),
        close: () => watcher.close(),
      };
    },
    voice: silentVoice,
    log: silentLog,
    questions: new Map(),
    byHand: sim.byHand,
    signals: systemSignals,
  });
  return good({ ended, journal });
};
