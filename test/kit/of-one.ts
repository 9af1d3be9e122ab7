import { aloneMark, type Batch, markedFor, onlySession } from "../../src/run/batch/batch.ts";
import type { OnItsWay, RackInput, WatcherInput } from "../../src/run/machine/input.ts";
import type { Watcher } from "../../src/run/ports.ts";
import type { Session } from "../../src/run/session/session.ts";

/** A watcher of tests that speaks of one fixture's own run and its questions only. */
export interface WatchesOne {
  show(session: Session): void;
  listen(answer: (input: WatcherInput, way?: OnItsWay) => void): void;
  close(): void;
}

/** The same before a rack of one, whose run has this name. */
export const ofOne = (watcher: WatchesOne, run: string): Watcher => ({
  show: (batch: Batch) => watcher.show(onlySession(batch)),
  listen: (answer) => watcher.listen((input, way) => answer(markedFor(run, input), way)),
  close: () => watcher.close(),
});

/** What was answered to the fixture of this run, as its own session would hear it. */
export const unmarked = (run: string, input: RackInput): WatcherInput => {
  const own = "answers" in input ? { ...input, answers: input.answers.replace(aloneMark(run), "") } : input;
  return own as WatcherInput;
};
