import type { Clock, Journal, LineError, Log, Voice, Watcher } from "../ports.ts";

/** The line as the shell sees it: the fixture's universe, opened and reopened as one. */
export interface OpenedLine {
  open(lost: (error: LineError) => void): Promise<void>;
  send(levels: Uint8Array): "sent" | "dropped";
  close(): Promise<void>;
}

/** Everything of the world that a run needs. */
export interface Doors {
  readonly clock: Clock;
  readonly line: OpenedLine;
  readonly journal: Journal;
  readonly watcher: Watcher;
  readonly voice: Voice;
  readonly log: Log;
  /** Only the simulated fixture has to be told that its mains went on. */
  readonly mainsOn: () => void;
  /** Inputs from outside the run: signals of the system. */
  readonly signals: (listen: (name: string) => void) => () => void;
  /** Errors that nobody caught. */
  readonly mishaps: (listen: (error: unknown) => void) => () => void;
  /** Names the bench in the record. */
  readonly bench: string;
  readonly run: string;
}
