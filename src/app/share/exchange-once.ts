import { openShare, ShareError } from "../../io/share/server.ts";
import type { OpenTwice } from "../../io/store/sharing.ts";
import type { JournalTable } from "../../io/store/table.ts";
import { inPlainWords } from "../../io/store/trouble.ts";
import { JournalError } from "../../run/ports.ts";
import { type Exchanged, exchange } from "../../run/sharing/exchange.ts";
import { doorOf, type ShareSettings } from "./settings.ts";

/** How the last exchange ended; it is kept in the journal and told by `limber share status`. */
export interface ExchangeNote {
  /** ISO 8601, UTC. */
  readonly at: string;
  readonly outcome:
    | ({ readonly kind: "done"; readonly openTwice: readonly OpenTwice[] } & Exchanged)
    | { readonly kind: "failed"; readonly why: string };
}

/** So few events and fixtures at a time that a run that writes meanwhile does not wait long. */
const AT_A_TIME = 300;
const FIXTURES_AT_A_TIME = 5;
const SITE_AT_A_TIME = 2000;

/**
 * One exchange with the other benches, then what follows from it: the derived tables, and what a reporting tool reads.
 * A server that cannot be reached is an outcome, and so is a damaged journal; our own bugs are thrown.
 */
export const exchangeOnce = async (
  table: JournalTable,
  settings: ShareSettings,
  journal: string,
): Promise<ExchangeNote> => {
  const at = new Date().toISOString();
  const note = await exchanged(table, settings).then(
    (done): ExchangeNote => ({ at, outcome: { kind: "done", ...done } }),
    (error: unknown): ExchangeNote => ({ at, outcome: { kind: "failed", why: worldOf(error, journal).message } }),
  );
  table.share.note(JSON.stringify(note));
  return note;
};

const worldOf = (caught: unknown, journal: string): Error => {
  const error = inPlainWords(caught, journal);
  if (error instanceof ShareError || error instanceof JournalError) return error;
  throw error;
};

const exchanged = async (
  table: JournalTable,
  settings: ShareSettings,
): Promise<Exchanged & { readonly openTwice: readonly OpenTwice[] }> => {
  const server = await openShare(doorOf(settings));
  try {
    const done = await exchange(table.share, server);
    level(table);
    for (let rows = table.site.next(SITE_AT_A_TIME); rows; rows = table.site.next(SITE_AT_A_TIME)) {
      await server.publish(rows);
      table.site.written(rows.upto);
    }
    return { ...done, openTwice: table.share.openTwice() };
  } finally {
    await server.close();
  }
};

/** Piece by piece: between two of them another thread may write. */
export const level = (table: JournalTable): void => {
  do while (table.derived.catchUp(AT_A_TIME).left > 0);
  while (table.derived.standings({ kind: "all" }, 0, FIXTURES_AT_A_TIME) === undefined);
};
