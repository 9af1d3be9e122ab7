import { type Batch, markedFor } from "../batch/batch.ts";
import type { Deed } from "../batch/effect.ts";
import type { RackInput } from "../batch/input.ts";
import { onlySession } from "../batch/one.ts";
import type { Clock, DiagnosisDoor, Journal, LineError, Log, Meeting, RdmDoor, Voice, Watcher } from "../ports.ts";
import type { Signals } from "./signals.ts";

/** One line as the shell of a single fixture sees it, opened and reopened as one. */
export interface OpenedLine {
  open(lost: (error: LineError) => void, meeting?: Meeting): Promise<void>;
  send(levels: Uint8Array): "sent" | "dropped";
  close(): Promise<void>;
}

/** All lines of a run, by their universes. */
export interface OpenedLines {
  open(universe: number, lost: (error: LineError) => void, meeting?: Meeting): Promise<void>;
  send(universe: number, levels: Uint8Array): "sent" | "dropped";
  close(): Promise<void>;
}

/** A run with one line: it carries the only universe there is. */
export const onlyLine = (line: OpenedLine): OpenedLines => ({
  open: (_universe, lost, meeting) => line.open(lost, meeting),
  send: (_universe, levels) => line.send(levels),
  close: () => line.close(),
});

/** Whoever watches one fixture, as a watcher of a rack of one: is shown the fixture's own run, and answers for it. */
export const watchesOne = (watcher: Watcher, run: string): Watcher<Batch, RackInput> => ({
  show: (batch) => watcher.show(onlySession(batch)),
  listen: (answer) => watcher.listen((input, way) => answer(markedFor(run, input), way)),
  close: () => watcher.close(),
});

/** Everything of the world that a run needs. */
export interface Doors {
  readonly clock: Clock;
  readonly lines: OpenedLines;
  readonly journal: Journal;
  readonly watcher: Watcher<Batch, RackInput>;
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
