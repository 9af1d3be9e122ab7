import { isSameName } from "../../domain/problem/identity.ts";
import type { BodyOf, EventBody, EventKind } from "../events/event.ts";
import { takenBackIn } from "../events/taken-back.ts";

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

/** When something happened: its place in the history, counted from 0. */
export type Moment = number;
export const NEVER: Moment = -1;

/** Every event of a kind with its moment; what was undone is not among them. Rules ask often, so it is one plain walk. */
export const eventsIn = <K extends EventKind>(
  history: History,
  kind: K,
): readonly { readonly at: Moment; readonly body: BodyOf<K> }[] => {
  const takenBack = takenBackIn(history);
  const found: { readonly at: Moment; readonly body: BodyOf<K> }[] = [];
  for (const [at, { body }] of history.entries()) if (isOf(body, kind) && !takenBack.has(at)) found.push({ at, body });
  return found;
};

const isOf = <K extends EventKind>(body: EventBody, kind: K): body is BodyOf<K> => body.kind === kind;

/** The last event of a kind that fits; NEVER when there is none. */
export const lastOf = <K extends EventKind>(history: History, kind: K, fits: (body: BodyOf<K>) => boolean): Moment =>
  eventsIn(history, kind).findLast(({ body }) => fits(body))?.at ?? NEVER;
