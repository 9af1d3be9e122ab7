import type { BodyOf, EventKind } from "../events/event.ts";
import type { History } from "./history.ts";

/** When something happened: its place in the history, counted from 0. */
export type Moment = number;
export const NEVER: Moment = -1;

/** Every event of a kind with its moment. */
export const eventsIn = <K extends EventKind>(
  history: History,
  kind: K,
): readonly { readonly at: Moment; readonly body: BodyOf<K> }[] =>
  history.flatMap(({ body }, at) => (body.kind === kind ? [{ at, body: body as BodyOf<K> }] : []));

/** The last event of a kind that fits; NEVER when there is none. */
export const lastOf = <K extends EventKind>(history: History, kind: K, fits: (body: BodyOf<K>) => boolean): Moment =>
  eventsIn(history, kind).findLast(({ body }) => fits(body))?.at ?? NEVER;
