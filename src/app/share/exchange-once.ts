import { identityKey } from "../../domain/problem/identity.ts";
import { keptPhoto, photoFolder, takePhoto } from "../../io/phone/photos.ts";
import { ShareError } from "../../io/share/connection.ts";
import { openShare, type PostgresShare } from "../../io/share/server.ts";
import type { OpenTwice } from "../../io/store/sharing.ts";
import type { JournalTable } from "../../io/store/table.ts";
import { inPlainWords } from "../../io/store/trouble.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import { JournalError } from "../../run/ports.ts";
import { type Exchanged, exchange } from "../../run/sharing/exchange.ts";
import { doorOf, type ShareSettings } from "./settings.ts";

/** How the last exchange ended; it is kept in the journal and told by `limber share status`. */
export interface ExchangeNote {
  /** ISO 8601, UTC. */
  readonly at: string;
  readonly outcome:
    | ({ readonly kind: "done"; readonly openTwice: readonly OpenTwice[]; readonly photos?: SharedPhotos } & Exchanged)
    | { readonly kind: "failed"; readonly why: string };
}

/** Photos of the last exchange; missing in notes from before photos were shared. */
export interface SharedPhotos {
  readonly sent: number;
  readonly received: number;
  /** How many photos wait, since the server was set up before there were any. */
  readonly waiting: number;
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
  const note = await exchanged(table, settings, photoFolder(journal)).then(
    (done): ExchangeNote => ({ at, outcome: { kind: "done", ...done } }),
    (error: unknown): ExchangeNote => ({
      at,
      outcome: { kind: "failed", why: failureInWords(worldOf(error, journal)) },
    }),
  );
  table.share.note(JSON.stringify(note));
  return note;
};

/** What is not sent now goes with the next exchange; a journal that is damaged or in use says by itself what to do. */
const failureInWords = ({ name, message }: Error): string =>
  name === "ShareError" ? `${message} Nothing is lost: this bench keeps its events and sends them later.` : message;

const worldOf = (caught: unknown, journal: string): Error => {
  const error = inPlainWords(caught, journal);
  if (error instanceof ShareError || error instanceof JournalError) return error;
  throw error;
};

const exchanged = async (
  table: JournalTable,
  settings: ShareSettings,
  folder: string,
): Promise<Exchanged & { readonly openTwice: readonly OpenTwice[]; readonly photos: SharedPhotos }> => {
  const server = await openShare(doorOf(settings));
  try {
    const sent = await sendPhotos(table, server, folder);
    const done = await exchange(table.share, server);
    const { received, waiting } = await fetchPhotos(table, server, folder);
    level(table);
    const own = new Set((await server.benches([])).map(({ origin }) => origin));
    for (let rows = table.site.next(SITE_AT_A_TIME); rows; rows = table.site.next(SITE_AT_A_TIME)) {
      await server.publish(table.share.follows().length === 0 ? rows : ofShop(rows, own));
      table.site.written(rows.upto);
    }
    return { ...done, openTwice: table.share.openTwice(), photos: { sent, received, waiting } };
  } finally {
    await server.close();
  }
};

/** Photos go before the events that name them: whoever hears of one finds it there. */
const sendPhotos = async (table: JournalTable, server: PostgresShare, folder: string): Promise<number> => {
  const { own } = table.share.photos();
  const there = own.length === 0 ? undefined : await server.photosThere(own, []);
  let sent = 0;
  for (const name of there ? own : []) {
    const bytes = there?.has(name) ? undefined : keptPhoto(folder, name);
    if (!bytes) continue;
    await server.putPhoto(table.share.owns().at(-1) ?? "", name, bytes);
    sent += 1;
  }
  return sent;
};

/** What is named and not here, by benches of this shop or of one that is followed. A photo that the server has not was lost by its own bench, and nobody waits for it. */
const fetchPhotos = async (
  table: JournalTable,
  server: PostgresShare,
  folder: string,
): Promise<Omit<SharedPhotos, "sent">> => {
  const { names, upto } = table.share.photos();
  const follows = table.share.follows();
  const there = names.length === 0 ? new Set<string>() : await server.photosThere(names, follows);
  if (!there) return { received: 0, waiting: names.length };
  let received = 0;
  for (const name of names.filter((one) => there.has(one) && !keptPhoto(folder, one))) {
    const bytes = await server.photo(name, follows);
    if (bytes && takePhoto(folder, name, bytes) === "taken") received += 1;
  }
  table.share.photosDone(upto);
  return { received, waiting: 0 };
};

type FoldedSite = NonNullable<ReturnType<JournalTable["site"]["next"]>>;

/** What other shops have done they write themselves. */
const ofShop = ({ runs, fixtures, upto }: FoldedSite, benches: ReadonlySet<string>): FoldedSite => {
  const own = runs.filter(({ origin }) => benches.has(origin));
  const serials = new Set(own.map(({ brief }) => identityKey((JSON.parse(brief) as RunSummary).serial)));
  return { runs: own, fixtures: fixtures.filter(({ serial }) => serials.has(serial)), upto };
};

/** Takes new events into the derived tables, piece by piece: between two of them another thread may write. */
export const level = (table: JournalTable): void => {
  do while (table.derived.catchUp(AT_A_TIME).left > 0);
  while (table.derived.standings({ kind: "all" }, 0, FIXTURES_AT_A_TIME) === undefined);
};
