import { createHash, randomBytes } from "node:crypto";
import { prettifyError } from "zod";
import { type ChainedEvent, canonical, isSound } from "../../run/events/chain.ts";
import { EVENT_VERSION, type RunEvent, runEvent } from "../../run/events/event.ts";
import { damagedEvent, journalError } from "./trouble.ts";

/** One event as the journal takes it: the whole event as canonical JSON, beside it what it is looked up by. */
export interface EventRow {
  readonly id: string;
  readonly run: string;
  readonly at: string;
  readonly v: number;
  readonly kind: string;
  readonly event: string;
}

/** One event as it comes back; `serial` counts in the order of arrival. */
export interface StoredRow extends EventRow, ChainedEvent {
  readonly serial: number;
}

export const EVENT_COLUMNS = `serial, id, run, at, v, kind, event, origin, number, time, counter,
  lower(hex(before)) AS before, lower(hex(hash)) AS hash`;

/** The rows that a statement gives which asks for `EVENT_COLUMNS`, with these values for its question marks. */
export const storedRows = (
  statement: { all(...values: readonly Cell[]): unknown[] },
  ...values: readonly Cell[]
): readonly StoredRow[] => statement.all(...values) as StoredRow[];

export const PUT_EVENT = `
  INSERT INTO events (id, run, at, v, kind, event, origin, number, time, counter, before, hash)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, unhex(?), unhex(?))
`;

/** A new bench id: 48 random bits, short enough to be read aloud. Among 1,000 benches two alike are met once in 500 million. */
export const newOrigin = (): string => randomBytes(6).toString("hex");

/**
 * An event as a row of the journal. Throws "Bug: ..." for what could not be read again, NUL characters above
 * all: the database cuts strings there.
 */
export const toRow = (event: RunEvent): EventRow => {
  const checked = runEvent.safeParse(event);
  if (!checked.success) throw new Error(`Bug: this event cannot be stored: ${prettifyError(checked.error)}`);
  if (event.v > EVENT_VERSION)
    throw new Error(`Bug: this event cannot be stored: version ${event.v} is not known here`);
  const { id, run, at, v, body } = event;
  return { id, run, at, v, kind: body.kind, event: canonical(event) };
};

/**
 * The event in a row. Throws JournalError "damaged" for a row that was changed since it was written, "newer-version"
 * for one that this program cannot read.
 */
export const fromRow = (row: StoredRow, file: string): RunEvent => {
  mustBeSound(row, file);
  return eventIn(row, file);
};

/**
 * The event in a row, without asking whether the row was changed. Throws JournalError "newer-version" for one that this
 * program cannot read, "damaged" for one that is no event.
 */
export const eventIn = (row: EventRow & { readonly number: number }, file: string): RunEvent => {
  if (row.v > EVENT_VERSION) throw journalError("newer-version", file, `event ${row.number} has version ${row.v}`);
  const checked = runEvent.safeParse(parsed(row.event));
  if (!checked.success) throw damagedEvent(file, row, prettifyError(checked.error));
  return checked.data;
};

/** Throws JournalError "damaged" for a row that was changed since it was written. */
export const mustBeSound = (row: StoredRow, file: string): void => {
  const wrong = wrongIn(row);
  if (wrong) throw damagedEvent(file, row, wrong);
};

/** What of this row was changed since it was written, in words for us; undefined when nothing was. */
export const wrongIn = (row: StoredRow): string | undefined => {
  if (!isSound(row)) return "its hash is of another content";
  const event = parsed(row.event);
  if (typeof event !== "object" || event === null) return "its content is no event";
  const { id, run, at, v, body } = event as Partial<RunEvent>;
  // Events that came from another bench are looked up by that bench as well.
  const same = (row.id === id || row.id === foreignId(row.origin, String(id))) && row.run === run;
  return same && row.at === at && row.v === v && row.kind === body?.kind
    ? undefined
    : "it is filed under what it does not say";
};

/** The id under which an event of another bench is kept: two benches may have given one id to two events. */
export const foreignId = (origin: string, id: string): string => `${origin}/${id}`;

/**
 * The rows that this program can read. What other benches wrote with a newer Limber is
 * kept, and read when this one is updated.
 */
export const readableHere = (rows: readonly StoredRow[]): readonly StoredRow[] =>
  rows.filter(({ v, id, origin }) => v <= EVENT_VERSION || !id.startsWith(`${origin}/`));

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

export type Cell = string | number | null;

/** The checksum of a derived row: it tells damage, and is no protection against anybody who means harm. */
export const proofOf = (...cells: readonly Cell[]): string =>
  createHash("sha256").update(JSON.stringify(cells)).digest("hex").slice(0, 16);
