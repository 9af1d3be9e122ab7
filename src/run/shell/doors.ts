import type { Deed } from "../batch/effect.ts";
import type { Clock, DiagnosisDoor, Journal, Log, RdmDoor, Voice, Watcher } from "../ports.ts";
import type { OpensSender } from "./frame-sender.ts";
import type { Signals } from "./signals.ts";

/** Everything of the world that a run needs. */
export interface Doors {
  readonly clock: Clock;
  /** What sends its frames, on lines that it opens. */
  readonly frames: OpensSender;
  readonly journal: Journal;
  readonly watcher: Watcher;
  readonly voice: Voice;
  readonly log: Log;
  readonly diagnosis: DiagnosisDoor;
  /** By universe: where fixtures are asked themselves while the run goes on; none where they are not to be. */
  readonly questions: ReadonlyMap<number, RdmDoor>;
  /** Only simulated fixtures have to be told what was done to them. */
  readonly byHand: (deed: Deed) => void;
  /** Inputs from outside the run: signals of the system. */
  readonly signals: Signals;
  /** Errors that nobody caught. */
  readonly mishaps: (listen: (error: unknown) => void) => () => void;
  /** Names the bench in the record. */
  readonly bench: string;
}
