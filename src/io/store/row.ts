import { prettifyError } from "zod";
import { EVENT_VERSION, type RunEvent, runEvent } from "../../run/events/event.ts";
import { journalError } from "./trouble.ts";

/** One event as the journal takes it: the whole event as JSON, beside it what it is looked up by. */
export interface Row {
  readonly id: string;
  readonly run: string;
  readonly at: string;
  readonly v: number;
  readonly kind: string;
  readonly event: string;
}

/** One event as it comes back; `serial` counts in the order of writing. */
export interface StoredRow {
  readonly serial: number;
  readonly v: number;
  readonly event: string;
}

/** Throws "Bug: ..." for what could not be read again, NUL characters above all: the database cuts strings there. */
export const toRow = (event: RunEvent): Row => {
  const checked = runEvent.safeParse(event);
  if (!checked.success) throw new Error(`Bug: this event cannot be stored: ${prettifyError(checked.error)}`);
  if (event.v > EVENT_VERSION)
    throw new Error(`Bug: this event cannot be stored: version ${event.v} is not known here`);
  const { id, run, at, v, body } = event;
  return { id, run, at, v, kind: body.kind, event: JSON.stringify(event) };
};

/** Throws JournalError "newer-version" or "damaged" for a row that this program cannot read. */
export const fromRow = ({ serial, v, event }: StoredRow, file: string): RunEvent => {
  if (v > EVENT_VERSION) throw journalError("newer-version", file, `entry ${serial} has version ${v}`);
  const checked = runEvent.safeParse(parsed(event));
  if (!checked.success) throw journalError("damaged", file, `entry ${serial}: ${prettifyError(checked.error)}`);
  return checked.data;
};

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};
