import { FAST, playRack } from "../../src/app/fixture/play-run.ts";
import { loadRackMaterial, type RackNames } from "../../src/app/rack/rack-data.ts";
import { prepareRack } from "../../src/app/rack/rack-job.ts";
import { openRackLines } from "../../src/app/rack/rack-lines.ts";
import { warmUpRack } from "../../src/app/rack/rack-sim.ts";
import { NOTHING_LEARNED } from "../../src/diagnosis/model/shop.ts";
import { good, type Result } from "../../src/domain/problem/problem.ts";
import { silentLog } from "../../src/io/log/file.ts";
import { memoryJournal } from "../../src/io/store/memory.ts";
import { silentVoice } from "../../src/io/voice/speech.ts";
import { type Batch, openBatch } from "../../src/run/batch/batch.ts";
import type { DataLibrary, Journal } from "../../src/run/ports.ts";
import { systemSignals } from "../../src/run/shell/signals.ts";
import { SimulatedRackWatcher } from "../../src/sim/rack-watcher.ts";

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
