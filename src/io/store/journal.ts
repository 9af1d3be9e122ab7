import type { Seconds } from "../../domain/units.ts";
import type { ChainHead, PrintedHead, Stamp } from "../../run/events/chain.ts";
import type { RunEvent } from "../../run/events/event.ts";
import { type AcceptedFinding, findingKey, type JournalFinding } from "../../run/events/journal-finding.ts";
import type { Journal } from "../../run/ports.ts";
import type { Checked } from "./check.ts";
import { level, type Rebuilt, remembering, type ToldProgress } from "./remembering.ts";
import { type EventRow, fromRow, readableHere, toRow } from "./row.ts";
import type { EventsOf } from "./table.ts";
import { startThread, type Thread } from "./thread.ts";

/** A journal in a file. */
export interface FileJournal extends Journal {
  /** What was found wrong when it was opened, though it can be read: its end is missing. */
  readonly wrong: readonly JournalFinding[];
  /** Writes a whole copy into a new file while the journal is in use; the copy is itself a journal. Rejects with JournalError. */
  backup(file: string): Promise<void>;
  /** Forgets what is kept ready of the runs and folds it again from the events. Rejects with JournalError. */
  rebuild(): Promise<Rebuilt>;
  /**
   * Everything that is wrong with the chain of events, the database's own rules and what is kept ready: of all runs, or
   * of one fixture alone (the chain always whole). `seen` hears how many events have been read. Rejects with JournalError.
   */
  check(which: CheckedPart, seen: (events: number) => void): Promise<JournalCheck>;
  /** Whether an event that is printed somewhere is here as it was then. */
  has(head: PrintedHead): Promise<boolean>;
  /** A person knows of a finding and goes on with it. */
  accept(finding: AcceptedFinding): Promise<void>;
}

type CheckedPart = { readonly kind: "all" } | { readonly kind: "fixture"; readonly serial: string };

interface JournalCheck {
  readonly events: number;
  /** Nobody has accepted these. */
  readonly findings: readonly JournalFinding[];
  readonly accepted: readonly AcceptedFinding[];
}

/** So few that checking them on the main thread takes less than the frame clock can spare. */
const PAGE_ROWS = 100;

/**
 * Opens the journal, creating it where there is none. All work on the database is done by a worker thread. `patience`
 * is how long to wait for another program's lock. Rejects with JournalError, as do all its functions.
 */
export const openJournal = async (
  file: string,
  patience: Seconds = 2,
  told: ToldProgress = () => {},
): Promise<FileJournal> => {
  const thread = startThread(new URL("./worker.js", import.meta.url), file);
  let wrong: readonly JournalFinding[];
  try {
    wrong = await thread.ask({ kind: "open", file, patience });
  } catch (error) {
    await thread.stop();
    throw error;
  }
  const groups = inGroups<EventRow>((rows) => thread.ask({ kind: "insert", rows }));
  let closed: Promise<void> | undefined;
  return {
    wrong,
    append: async (event) => groups.add(toRow(event)),
    events: (run) => read(thread, file, run === undefined ? { kind: "all" } : { kind: "run", run }),
    past: async (serial) => {
      await level(thread, told);
      return read(thread, file, { kind: "fixture", serial });
    },
    head: () => thread.ask({ kind: "head" }),
    ...remembering(thread, told),
    backup: (to) => thread.ask({ kind: "backup", file: to }),
    check: (which, seen) => check(thread, which, seen),
    has: (head) => thread.ask({ kind: "has-head", head }),
    accept: (finding) => thread.ask({ kind: "accept", finding }),
    close: () => {
      closed ??= end(thread, groups);
      return closed;
    },
  };
};

/** What was handed over before is written first. */
const end = async (thread: Thread, groups: Groups<EventRow>): Promise<void> => {
  await groups.rest();
  await thread.ask({ kind: "close" });
  await thread.stop();
};

/** Page by page, so that appends and frames come between. */
const read = async (thread: Thread, file: string, of: EventsOf): Promise<readonly RunEvent[]> => {
  const events: RunEvent[] = [];
  for (let after: Stamp | undefined; ; ) {
    const page = await thread.ask({ kind: "page", of, after, limit: PAGE_ROWS });
    events.push(...readableHere(page).map((row) => fromRow(row, file)));
    after = page.at(-1);
    if (page.length < PAGE_ROWS) return events;
  }
};

/** How many events, or runs, are checked at a time: appends meanwhile do not wait long. */
const CHECKED_AT_A_TIME = 500;
const RUNS_AT_A_TIME = 20;

const check = async (thread: Thread, which: CheckedPart, seen: (events: number) => void): Promise<JournalCheck> => {
  const chain = await gathered((after: ChainHead | undefined, sum) => {
    seen(sum);
    return thread.ask({ kind: "check-chain", after, most: CHECKED_AT_A_TIME });
  });
  // From damaged events nothing follows.
  const damaged = chain.findings.some(({ kind }) => kind === "changed");
  const all = [
    ...chain.findings,
    ...(await thread.ask({ kind: "check-rules" })),
    ...(damaged ? [] : await checkDerived(thread, which)),
  ];
  const accepted = await thread.ask({ kind: "accepted" });
  const keys = new Set(accepted.map(({ key }) => key));
  return { events: chain.seen, accepted, findings: all.filter((one) => !keys.has(findingKey(one))) };
};

const checkDerived = async (thread: Thread, which: CheckedPart): Promise<readonly JournalFinding[]> => {
  await level(thread, () => {});
  if (which.kind === "fixture") return thread.ask({ kind: "check-fixture", serial: which.serial });
  const runs = await gathered<string>((after = "") => thread.ask({ kind: "check-runs", after, most: RUNS_AT_A_TIME }));
  const fixtures = await gathered<string>((after = "") => thread.ask({ kind: "check-fixtures", after, most: 5 }));
  return [...runs.findings, ...fixtures.findings];
};

/** Page after page until there is no next. */
const gathered = async <Place>(
  page: (after: Place | undefined, seen: number) => Promise<Checked<Place>>,
): Promise<Pick<Checked<Place>, "findings" | "seen">> => {
  const findings: JournalFinding[] = [];
  let seen = 0;
  for (let after: Place | undefined; ; ) {
    const one = await page(after, seen);
    findings.push(...one.findings);
    seen += one.seen;
    after = one.next;
    if (after === undefined) return { findings, seen };
  }
};

/** Collects what comes while a write is under way, so that a burst costs one write to the disk. */
export interface Groups<T> {
  /** Settles with the write that carried the item. */
  add(item: T): Promise<void>;
  /** Resolves when nothing is under way, however the writes ended. */
  rest(): Promise<void>;
}

/** Collects items so that those which come while a write is under way go into one write together. */
export const inGroups = <T>(write: (group: readonly T[]) => Promise<void>): Groups<T> => {
  let group: T[] = [];
  let next: Promise<void> | undefined;
  let settled = Promise.resolve();
  const send = () => {
    const sent = group;
    group = [];
    next = undefined;
    return write(sent);
  };
  return {
    add: (item) => {
      group.push(item);
      if (next) return next;
      next = settled.then(send);
      settled = next.catch(() => undefined);
      return next;
    },
    rest: () => settled,
  };
};
