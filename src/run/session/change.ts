import type { EventBody } from "../events/event.ts";
import { apply } from "../events/view.ts";
import type { Changed } from "../machine/running.ts";
import type { SessionEffect } from "./effect.ts";
import type { Session } from "./session.ts";

/** The next session and what it wants of the world. */
export type Change = Changed<Session, SessionEffect>;

/** Puts an event in the journal: known to the session at once, shown as kept when it is on disk. */
export const write = (session: Session, body: EventBody): Change => {
  const view = apply(session.view, body);
  return [
    { ...session, view, told: [...session.told, body] },
    [{ kind: "write", body, person: session.person, count: view.count }],
  ];
};
