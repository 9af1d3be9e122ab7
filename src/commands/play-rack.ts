import type { Batch } from "../batch/batch.ts";
import type { RackInput } from "../batch/input.ts";
import { rackRun } from "../batch/rack-run.ts";
import type { Deed } from "../batch/wish.ts";
import type { Clock, Journal, Log, Voice, Watcher } from "../ports.ts";
import type { OpenedLines } from "../run/doors.ts";
import { Shell } from "../run/shell.ts";
import { systemMishaps, systemSignals } from "../run/signals.ts";

/** The real doors of a rack run, chosen by its command. */
export interface RackDoors {
  readonly clock: (busy: () => boolean) => Clock;
  readonly lines: OpenedLines;
  readonly journal: Journal;
  readonly watcher: (frame: () => number) => Watcher<Batch, RackInput>;
  readonly voice: Voice;
  readonly log: Log;
  readonly byHand: (deed: Deed) => void;
}

/** Plays a rack run to its end and says how it ended. */
export const playRack = async (batch: Batch, bench: string, doors: RackDoors): Promise<Batch> => {
  const shell: Shell<Batch, RackInput> = new Shell(rackRun(batch), {
    ...doors,
    clock: doors.clock(() => shell.busy()),
    watcher: doors.watcher(() => shell.frame()),
    signals: systemSignals,
    mishaps: systemMishaps,
    bench,
  });
  return await shell.run();
};
