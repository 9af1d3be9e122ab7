import type { EventBody } from "../events/event.ts";
import { apply } from "../events/view.ts";
import type { Session } from "./session.ts";
import type { Wish } from "./wish.ts";

/** The next session and what it wants of the world. */
export type Change = Changed<Session, Wish>;
/** The same of whatever goes on by inputs. */
export type Changed<State, Wanted> = readonly [State, readonly Wanted[]];

export const stay = (session: Session): Change => [session, []];
export const wishing = (session: Session, ...wishes: readonly Wish[]): Change => [session, wishes];

/** One change after another, of a session or of a rack; the wishes of both, in order. */
export const andThen = <State, Wanted>(
  [state, wishes]: Changed<State, Wanted>,
  next: (state: State) => Changed<State, Wanted>,
): Changed<State, Wanted> => {
  const [after, more] = next(state);
  return [after, [...wishes, ...more]];
};

/** Puts an event in the journal: known to the session at once, shown as kept when it is on disk. */
export const write = (session: Session, body: EventBody): Change => {
  const view = apply(session.view, body);
  return [
    { ...session, view, told: [...session.told, body] },
    [{ kind: "write", body, person: session.person, count: view.count }],
  ];
};
