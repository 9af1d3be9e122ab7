import { andThen, ended, type HowEnded } from "../machine/running.ts";
import { write as writeOwn } from "../session/change.ts";
import type { Session } from "../session/session.ts";
import type { Batch } from "./batch.ts";
import { forEach, type RackChange, write } from "./change.ts";

/**
 * Ends the runs of these fixtures; those that are over stay as they are. `members` are their indices in the rack, from 0.
 */
export const closeRuns = (
  batch: Batch,
  members: readonly number[],
  how: "abandoned" | "stopped" | "finished",
): RackChange =>
  forEach(batch, members, (session) =>
    isOver(session.view.closed) ? [session, []] : writeOwn({ ...session, group: [] }, { kind: "run-closed", how }),
  );

/** What was stopped may go on another day, and then end again. */
const isOver = (closed: Session["view"]["closed"]): boolean => closed === "finished" || closed === "abandoned";

/** Ends the rack's run in any way; unfinished runs are closed, and the journal is told. */
export const endRack = (batch: Batch, how: HowEnded): RackChange =>
  ended(batch, how, (b) =>
    andThen(closeRuns(b, [...b.members.keys()], "stopped"), (closed) => write(closed, { kind: "run-closed", how })),
  );
