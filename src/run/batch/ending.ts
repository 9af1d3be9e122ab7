import { andThen, write as writeOwn } from "../session/change.ts";
import type { Session } from "../session/session.ts";
import type { Batch } from "./batch.ts";
import { forEach, type RackChange, stay, wishing, write } from "./change.ts";

/** The runs of these fixtures come to their end; those that are over stay as they are. */
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

/** Every way to the end: the rest state goes out while it can, unfinished runs are closed, and the journal is told. */
export const end = (batch: Batch, how: "finished" | "stopped" | "failed"): RackChange =>
  andThen(wishing(batch, { kind: "go-dark" }), (b) =>
    andThen(closeRuns(b, [...b.members.keys()], "stopped"), (closed) =>
      andThen(write(closed, { kind: "run-closed", how }), (over) =>
        wishing({ ...over, stage: { kind: "finished", how } }, { kind: "end" }),
      ),
    ),
  );

/** The record may be lost, so nothing more is judged: stop, dark, and say so. */
export const journalFailed = (batch: Batch, words: string): RackChange =>
  batch.stage.kind === "finished"
    ? stay({ ...batch, trouble: words })
    : wishing(
        { ...batch, trouble: words, stage: { kind: "finished", how: "failed" } },
        { kind: "go-dark" },
        { kind: "say", words },
        { kind: "end" },
      );
