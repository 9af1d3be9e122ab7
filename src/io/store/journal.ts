import type { Seconds } from "../../domain/units.ts";
import type { RunEvent } from "../../run/events/event.ts";
import type { Journal } from "../../run/ports.ts";
import { type Groups, inGroups } from "./groups.ts";
import { type Rebuilt, remembering } from "./remembering.ts";
import { fromRow, type Row, toRow } from "./row.ts";
import { startThread, type Thread } from "./thread.ts";

/** A journal in a file. */
export interface FileJournal extends Journal {
  /** Writes a whole copy into a new file while the journal is in use; the copy is itself a journal. Rejects with JournalError. */
  backup(file: string): Promise<void>;
  /** Forgets what is kept ready of the runs and folds it anew from the events. Rejects with JournalError. */
  rebuild(): Promise<Rebuilt>;
}

/** So few that checking them on the main thread takes less than the frame clock can spare. */
const PAGE_ROWS = 100;

/**
 * Opens the journal, creating it where there is none. All work on the database is done by a worker thread. `patience`
 * is how long to wait for another program's lock. Rejects with JournalError, as do all its functions.
 */
export const openJournal = async (file: string, patience: Seconds = 2): Promise<FileJournal> => {
  const thread = startThread(new URL("./worker.js", import.meta.url), file);
  try {
    await thread.ask({ kind: "open", file, patience });
  } catch (error) {
    await thread.stop();
    throw error;
  }
  const groups = inGroups<Row>((rows) => thread.ask({ kind: "insert", rows }));
  let closed: Promise<void> | undefined;
  return {
    append: async (event) => groups.add(toRow(event)),
    events: (run) => read(thread, file, run),
    ...remembering(thread),
    backup: (to) => thread.ask({ kind: "backup", file: to }),
    close: () => {
      closed ??= end(thread, groups);
      return closed;
    },
  };
};

/** What was handed over before is written first. */
const end = async (thread: Thread, groups: Groups<Row>): Promise<void> => {
  await groups.rest();
  await thread.ask({ kind: "close" });
  await thread.stop();
};

/** Page by page, so that appends and frames come between. */
const read = async (thread: Thread, file: string, run: string | undefined): Promise<readonly RunEvent[]> => {
  const events: RunEvent[] = [];
  for (let after = 0; ; ) {
    const page = await thread.ask({ kind: "page", run, after, limit: PAGE_ROWS });
    events.push(...page.map((row) => fromRow(row, file)));
    const last = page.at(-1);
    if (!last || page.length < PAGE_ROWS) return events;
    after = last.serial;
  }
};
