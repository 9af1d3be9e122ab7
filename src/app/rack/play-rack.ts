import type { Batch } from "../../run/batch/batch.ts";
import type { Deed } from "../../run/batch/effect.ts";
import type { Clock, DiagnosisDoor, Journal, Log, RdmDoor, Voice, Watcher } from "../../run/ports.ts";
import type { OpensSender } from "../../run/shell/frame-sender.ts";
import { Shell } from "../../run/shell/shell.ts";
import { type Signals, systemMishaps } from "../../run/shell/signals.ts";

/** The real doors of a rack run, chosen by its command. */
export interface RackDoors {
  readonly clock: (busy: () => boolean) => Clock;
  readonly frames: OpensSender;
  readonly questions: ReadonlyMap<number, RdmDoor>;
  readonly journal: Journal;
  readonly watcher: (frame: () => number) => Watcher;
  readonly voice: Voice;
  readonly log: Log;
  readonly diagnosis: DiagnosisDoor;
  readonly byHand: (deed: Deed) => void;
  readonly signals: Signals;
}

/** Plays a rack run to its end and says how it ended. */
export const playRack = async (batch: Batch, bench: string, doors: RackDoors): Promise<Batch> => {
  const shell: Shell = new Shell(batch, {
    ...doors,
    clock: doors.clock(() => shell.busy()),
    watcher: doors.watcher(() => shell.frame()),
    mishaps: systemMishaps,
    bench,
  });
  try {
    return await shell.run();
  } finally {
    await doors.diagnosis.close();
  }
};
