import type { QueryResultRow } from "pg";
import { type ChainedEvent, NO_HASH } from "../../run/events/chain.ts";
import type { PushAnswer, SharedBench, ShareServer } from "../../run/sharing/exchange.ts";
import { askerAt, codeOf, inOne, type ServerAsk, ShareError } from "./connection.ts";
import { MIGRATIONS } from "./migrations.ts";

/** How to reach the server. With `url` undefined the usual environment variables say it (PGHOST, PGDATABASE, PGUSER, PGPASSWORD). */
export interface ShareDoor {
  readonly url: string | undefined;
  readonly shop: string;
  /** The name of this bench, for people. */
  readonly name: string;
}

/** A PostgreSQL server, 15 or later, on which benches exchange their events. */
export interface PostgresShare extends ShareServer {
  /** Steps of the schema that are still to be taken. */
  missing(): Promise<number>;
  /** Takes them, all or none. */
  migrate(): Promise<void>;
  /** Makes this bench known. */
  join(origin: string): Promise<void>;
  /** Other shops that have runs of the fixture with this serial number (`identityKey`). */
  shopsThatHad(serial: string): Promise<readonly string[]>;
  /** Its later events are refused. Undefined where nobody knows it. */
  forget(origin: string): Promise<ForgottenBench | undefined>;
  /** Which of these photos this shop and those it follows have there; undefined where the server was set up before there were any. */
  photosThere(names: readonly string[], follows: readonly string[]): Promise<ReadonlySet<string> | undefined>;
  /** Keeps a photo under its name; of a bench that was forgotten nothing. */
  putPhoto(origin: string, name: string, bytes: Uint8Array): Promise<void>;
  photo(name: string, follows: readonly string[]): Promise<Uint8Array | undefined>;
  /** Writes what a reporting tool reads. What another bench has written from more events stays. */
  publish(site: SitePart): Promise<void>;
  close(): Promise<void>;
}

/** A bench whose events are refused, and the login that it used last. */
export interface ForgottenBench {
  /** Undefined where the server was set up before logins were noted, or the bench has not sent anything since. */
  readonly login: string | undefined;
  /** Benches that use the same one and were not forgotten. */
  readonly sharedWith: readonly { readonly origin: string; readonly name: string }[];
}

/** Runs and fixtures as this bench has folded them; `events` counts what each was folded from. */
interface SitePart {
  readonly runs: readonly {
    readonly run: string;
    readonly begun: string;
    readonly origin: string;
    readonly events: number;
    readonly brief: string;
  }[];
  readonly fixtures: readonly { readonly serial: string; readonly events: number; readonly fixture: string }[];
}

/**
 * A way to exchange events over a PostgreSQL server; nothing is connected before the first question. Rejects with
 * ShareError where the address is no PostgreSQL URL, and so do all its functions where the server cannot be reached.
 */
export const openShare = async (door: ShareDoor): Promise<PostgresShare> => {
  const { url, shop } = door;
  const ask = await askerAt(url);
  return {
    benches: async (follows) => (await ask(BENCHES, JSON.stringify([shop, ...follows]))).map(benchIn),
    shopsThatHad: async (serial) => (await ask(SHOPS, serial, shop)).map((row) => String(row["shop"])),
    hashAt: async (origin, number) => {
      const [row] = await ask(HASH_AT, origin, number);
      return row && String(row["hash"]);
    },
    push: (origin, events) => push(ask, origin, door, events),
    pull: async (origin, after, most) => pulled(await ask(PULL, origin, after, most), origin),
    missing: () => missing(ask),
    migrate: () => inOne(ask, () => migrate(ask)),
    join: async (origin) => {
      await ask(JOIN, origin, shop, door.name);
    },
    forget: (origin) => forget(ask, origin),
    photosThere: async (names, follows) => {
      const [made] = await ask("SELECT to_regclass('limber.photos') IS NOT NULL AS made");
      if (!made?.["made"]) return undefined;
      const rows = await ask(PHOTOS_THERE, JSON.stringify([shop, ...follows]), JSON.stringify(names));
      return new Set(rows.map(({ name }) => String(name)));
    },
    putPhoto: async (origin, name, bytes) => {
      await ask(PUT_PHOTO, shop, name, Buffer.from(bytes), origin);
    },
    photo: async (name, follows) => {
      const [row] = await ask(PHOTO, JSON.stringify([shop, ...follows]), name);
      return row && Uint8Array.from(row["bytes"]);
    },
    publish: async ({ runs, fixtures }) => {
      await ask(PUBLISH_RUNS, shop, JSON.stringify(runs));
      await ask(PUBLISH_FIXTURES, shop, JSON.stringify(fixtures));
    },
    close: () => ask.close(),
  };
};

const benchIn = (row: QueryResultRow): SharedBench => ({
  origin: String(row["origin"]),
  number: Number(row["number"]),
  hash: String(row["hash"]),
  name: String(row["name"]),
  shop: String(row["shop"]),
  forgotten: row["forgotten"] !== null,
});

/** The first event of a new bench id makes it known. */
const JOIN = `
  INSERT INTO limber.benches (origin, shop, name) VALUES ($1, $2, $3)
  ON CONFLICT (origin) DO UPDATE SET shop = excluded.shop, name = excluded.name, seen = now(), login = session_user
`;

const BENCHES = `
  SELECT * FROM limber.benches WHERE shop IN (SELECT json_array_elements_text($1::json)) ORDER BY origin
`;
const SHOPS = "SELECT shop FROM limber.site_fixtures WHERE serial = $1 AND shop <> $2 ORDER BY shop";
const HASH_AT = "SELECT encode(hash, 'hex') AS hash FROM limber.events WHERE origin = $1 AND number = $2";
const FORGET = "UPDATE limber.benches SET forgotten = now() WHERE origin = $1 RETURNING *";
const SAME_LOGIN = `
  SELECT origin, name FROM limber.benches WHERE login = $1 AND origin <> $2 AND forgotten IS NULL ORDER BY origin
`;
const KNOWN = "INSERT INTO limber.benches (origin, shop, name) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING";

const forget = async (ask: ServerAsk, origin: string): Promise<ForgottenBench | undefined> => {
  const [bench] = await ask(FORGET, origin);
  if (!bench) return undefined;
  const login: unknown = bench["login"];
  if (typeof login !== "string") return { login: undefined, sharedWith: [] };
  const others = await ask(SAME_LOGIN, login, origin);
  return {
    login,
    sharedWith: others.map((row) => ({ origin: String(row["origin"]), name: String(row["name"]) })),
  };
};

const push = async (
  ask: ServerAsk,
  origin: string,
  { shop, name }: ShareDoor,
  events: readonly ChainedEvent[],
): Promise<PushAnswer> => {
  const batch = events.map(({ number, time, counter, before, hash, event }) => ({
    number,
    time,
    counter,
    before,
    hash,
    event,
  }));
  try {
    await ask(KNOWN, origin, shop, name);
    await ask("SELECT limber.push($1, $2::json)", origin, JSON.stringify(batch));
    return "stored";
  } catch (error) {
    const code = error instanceof ShareError ? codeOf(error.cause) : "";
    if (code === "LB001") return "forgotten";
    if (code === "LB002") return "taken";
    throw error;
  }
};

/** The hash before is that of the event before, so it need not be kept twice. */
const PULL = `
  SELECT number, time, counter, encode(hash, 'hex') AS hash, event,
    coalesce((SELECT encode(hash, 'hex') FROM limber.events AS past WHERE past.origin = now.origin AND past.number = now.number - 1), '${NO_HASH}') AS before
  FROM limber.events AS now WHERE origin = $1 AND number > $2 ORDER BY number LIMIT $3
`;

const pulled = (rows: readonly QueryResultRow[], origin: string): readonly ChainedEvent[] =>
  rows.map((row) => ({
    origin,
    number: Number(row["number"]),
    time: Number(row["time"]),
    counter: Number(row["counter"]),
    before: String(row["before"]),
    hash: String(row["hash"]),
    event: String(row["event"]),
  }));

const OLDEST = 150000;

const missing = async (ask: ServerAsk): Promise<number> => {
  const [server] = await ask(
    "SELECT current_setting('server_version_num')::int AS version, to_regclass('limber.migrations') IS NOT NULL AS made",
  );
  if (Number(server?.["version"]) < OLDEST) throw new ShareError("The server is older than PostgreSQL 15.");
  if (!server?.["made"]) return MIGRATIONS.length;
  const taken = await stepsTaken(ask);
  if (taken > MIGRATIONS.length)
    throw new ShareError("The share was made by a newer Limber. Update this one; until then nothing is exchanged.");
  return MIGRATIONS.length - taken;
};

const stepsTaken = async (ask: ServerAsk): Promise<number> => {
  const [row] = await ask("SELECT count(*)::int AS taken FROM limber.migrations");
  return Number(row?.["taken"]);
};

/** Any number, the same for every bench: two may join in the same moment, the second waits and finds nothing to do. */
const MIGRATING = 1280131666;

const migrate = async (ask: ServerAsk): Promise<void> => {
  await ask("SELECT pg_advisory_xact_lock($1)", MIGRATING);
  await ask("CREATE SCHEMA IF NOT EXISTS limber");
  await ask(
    "CREATE TABLE IF NOT EXISTS limber.migrations (number int PRIMARY KEY, at timestamptz NOT NULL DEFAULT now())",
  );
  const taken = await stepsTaken(ask);
  for (const [index, step] of MIGRATIONS.entries()) {
    if (index < taken) continue;
    await ask(step);
    await ask("INSERT INTO limber.migrations (number) VALUES ($1)", index + 1);
  }
};

const PHOTOS_THERE = `
  SELECT DISTINCT name FROM limber.photos
  WHERE shop IN (SELECT json_array_elements_text($1::json)) AND name IN (SELECT json_array_elements_text($2::json))
`;
const PHOTO = `
  SELECT bytes FROM limber.photos WHERE shop IN (SELECT json_array_elements_text($1::json)) AND name = $2 LIMIT 1
`;
const PUT_PHOTO = `
  INSERT INTO limber.photos (shop, name, bytes) SELECT $1, $2, $3
  WHERE NOT EXISTS (SELECT 1 FROM limber.benches WHERE origin = $4 AND forgotten IS NOT NULL) ON CONFLICT DO NOTHING
`;

const PUBLISH_RUNS = `
  INSERT INTO limber.site_runs (shop, run, begun, origin, events, brief)
  SELECT $1, run, begun, origin, events, brief::jsonb
  FROM json_to_recordset($2::json) AS r(run text, begun text, origin text, events int, brief text)
  ON CONFLICT (shop, run) DO UPDATE SET begun = excluded.begun, origin = excluded.origin, events = excluded.events, brief = excluded.brief
  WHERE site_runs.events <= excluded.events
`;
const PUBLISH_FIXTURES = `
  INSERT INTO limber.site_fixtures (shop, serial, events, fixture)
  SELECT $1, serial, events, fixture::jsonb FROM json_to_recordset($2::json) AS r(serial text, events int, fixture text)
  ON CONFLICT (shop, serial) DO UPDATE SET events = excluded.events, fixture = excluded.fixture
  WHERE site_fixtures.events <= excluded.events
`;
