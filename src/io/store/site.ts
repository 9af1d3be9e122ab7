import type { DatabaseSyncInstance as Database } from "@photostructure/sqlite";
import { isNameless } from "../../run/events/summary.ts";
import { stockOf } from "../../run/memory/stock.ts";

/** What a reporting tool is to read of runs and fixtures, as this journal has folded them. The derived tables must have caught up. */
export interface Site {
  /** The runs with events that were not handed out yet; `most` is how many events at most. Undefined when there are none. */
  next(most: number): SiteRows | undefined;
  /** Notes that what was handed out, up to event number `upto`, has been written. */
  written(upto: number): void;
}

interface SiteRows {
  readonly runs: readonly SiteRun[];
  readonly fixtures: readonly SiteFixture[];
  /** The serial number of the last event that is in it. */
  readonly upto: number;
}

/** `events`: from how many events it was folded, so that what knows more stays. */
interface SiteRun {
  readonly run: string;
  readonly begun: string;
  readonly origin: string;
  readonly events: number;
  readonly brief: string;
}

interface SiteFixture {
  readonly serial: string;
  readonly events: number;
  readonly fixture: string;
}

const UPTO = "SELECT coalesce(max(number), 0) AS upto FROM marks WHERE what = 'site'";
const FRESH = "SELECT serial, run FROM events WHERE serial > ? ORDER BY serial LIMIT ?";
const RUN = `
  SELECT run, begun, fixture, brief, (SELECT count(*) FROM events WHERE events.run = runs.run) AS events FROM runs WHERE run = ?
`;
const OF_FIXTURE = "SELECT brief FROM runs WHERE fixture = ? ORDER BY begun";
const COUNT = "SELECT count(*) AS events FROM events WHERE run IN (SELECT run FROM runs WHERE fixture = ?)";
const STANDING = "SELECT standing FROM fixtures WHERE fixture = ?";

/** What a reporting tool on the server reads, taken from the derived tables piece by piece. */
export const siteOf = (database: Database): Site => ({
  next: (most) => {
    const { upto } = database.prepare(UPTO).get();
    const fresh = database.prepare(FRESH).all(Number(upto), most);
    const last = fresh.at(-1);
    if (!last) return undefined;
    const rows = [...new Set(fresh.map((row) => String(row["run"])))].flatMap((run) => database.prepare(RUN).all(run));
    const serials = new Set(rows.map((row) => String(row["fixture"])).filter((serial) => !isNameless(serial)));
    return {
      runs: rows.map(runIn),
      fixtures: [...serials].flatMap((serial) => fixtureIn(database, serial)),
      upto: Number(last["serial"]),
    };
  },
  written: (upto) => {
    database.prepare("DELETE FROM marks WHERE what = 'site'").run();
    database.prepare("INSERT INTO marks VALUES ('site', '', ?, '')").run(upto);
  },
});

const runIn = (row: Readonly<Record<string, unknown>>): SiteRun => ({
  run: String(row["run"]),
  begun: String(row["begun"]),
  origin: String(row["begun"]).slice(-12),
  events: Number(row["events"]),
  brief: String(row["brief"]),
});

/** The very row of the stock: of its real runs, or of its simulated ones where it has no other. */
const fixtureIn = (database: Database, serial: string): readonly SiteFixture[] => {
  const briefs = database
    .prepare(OF_FIXTURE)
    .all(serial)
    .map(({ brief }) => JSON.parse(String(brief)));
  const standing = database.prepare(STANDING).get(serial)?.["standing"];
  if (typeof standing !== "string") return [];
  const standings = new Map([[serial, JSON.parse(standing)]]);
  const kind = briefs.some(({ simulated }) => !simulated) ? "real" : "simulated";
  const [fixture] = stockOf(briefs, standings, kind).fixtures;
  const { events } = database.prepare(COUNT).get(serial);
  const told = JSON.stringify({ ...fixture, simulated: kind === "simulated" });
  return fixture ? [{ serial, events: Number(events), fixture: told }] : [];
};
