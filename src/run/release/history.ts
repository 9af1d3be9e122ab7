import { isSameName } from "../../domain/problem/identity.ts";
import type { EventBody } from "../events/event.ts";

/** One event of a fixture, with the run it was written in and who was there. */
export interface FixtureEvent {
  readonly run: string;
  readonly person: string;
  readonly body: EventBody;
}

/** Everything written of one fixture over all its runs, in the order of writing. */
export type History = readonly FixtureEvent[];

/**
 * The history of the fixture with this serial number. A simulated run says nothing of a real fixture: where there is a
 * real run, simulated ones are left out.
 */
export const historyOf = <T extends FixtureEvent>(events: readonly T[], serial: string): readonly T[] => {
  const openings = events.filter(
    (one) => one.body.kind === "run-opened" && isSameName(one.body.fixture.serial, serial),
  );
  const real = openings.filter(({ body }) => body.kind === "run-opened" && !body.simulated);
  const runs = new Set((real.length > 0 ? real : openings).map(({ run }) => run));
  return events.filter(({ run }) => runs.has(run));
};

/** What was written since the serial number belongs to the kind of fixture that it belongs to now. */
export const sinceKindChanged = (history: History): History =>
  history.slice(history.findLastIndex(({ body }) => body.kind === "kind-changed") + 1);
