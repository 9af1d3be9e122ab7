import type { BodyOf, EventBody, EventKind } from "../events/event.ts";
import { takenBackIn } from "../events/taken-back.ts";
import type { History } from "./history.ts";

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
