import type { Sql } from "postgres";
import type { ChainedEvent } from "../../run/events/chain.ts";
import { NO_HASH } from "../../run/events/chain.ts";
import type { PushAnswer, SharedBench, ShareServer } from "../../run/sharing/exchange.ts";
import { MIGRATIONS } from "./migrations.ts";

/** How to reach the server. With `url` undefined the usual environment variables say it (PGHOST, PGDATABASE, PGUSER, PGPASSWORD). */
export interface ShareDoor {
  readonly url: string | undefined;
  readonly shop: string;
  /** Of this bench, for people. */
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
  /** Its later events are refused. False where nobody knows it. */
  forget(origin: string): Promise<boolean>;
  /** Writes what a reporting tool reads. What another bench has written from more events stays. */
  publish(site: SitePart): Promise<void>;
  close(): Promise<void>;
}

/** Runs and fixtures as this bench has folded them; `events` counts what each was folded from. */
export interface SitePart {
  readonly runs: readonly {
    readonly run: string;
    readonly begun: string;
    readonly origin: string;
    readonly events: number;
    readonly brief: string;
  }[];
  readonly fixtures: readonly { readonly serial: string; readonly events: number; readonly fixture: string }[];
}

/** The world is wrong: the server cannot be reached, or refuses. Says what happened and what to do, never a password. */
export class ShareError extends Error {
  override readonly name = "ShareError";
}

/** Nobody waits longer for a server that does not answer. */
const PATIENCE_S = 10;

export const openShare = async ({ url, shop, name }: ShareDoor): Promise<PostgresShare> => {
  const { default: postgres } = await import("postgres");
  const { database, user, password, ...where } = addressIn(url, process.env);
  const sql = postgres({
    ...where,
    ...(database === undefined ? {} : { database }),
    ...(user === undefined ? {} : { user }),
    ...(password === undefined ? {} : { password }),
    max: 1,
    connect_timeout: PATIENCE_S,
    idle_timeout: 30,
    onnotice: () => {},
    fetch_types: false,
  });
  const ask = <T>(work: Promise<T>): Promise<T> => work.catch((error: unknown) => Promise.reject(inWords(error)));
  const rows = (text: string, ...values: readonly (string | number)[]): Promise<readonly Row[]> =>
    ask(sql.unsafe<Row[]>(text, [...values]));
  return {
    benches: async () =>
      (await rows("SELECT * FROM limber.benches WHERE shop = $1 ORDER BY origin", shop)).map(benchIn),
    hashAt: async (origin, number) => {
      const [row] = await rows(
        "SELECT encode(hash, 'hex') AS hash FROM limber.events WHERE origin = $1 AND number = $2",
        origin,
        number,
      );
      return row && String(row["hash"]);
    },
    push: (origin, events) => push(sql, { origin, shop, name }, events),
    pull: async (origin, after, most) => pulled(await rows(PULL, origin, after, most), origin),
    missing: () => ask(missing(sql)),
    migrate: () => ask(migrate(sql)),
    join: async (origin) => {
      await rows(JOIN, origin, shop, name);
    },
    forget: async (origin) =>
      (await rows("UPDATE limber.benches SET forgotten = now() WHERE origin = $1 RETURNING origin", origin)).length > 0,
    publish: async (site) => {
      await rows(PUBLISH_RUNS, shop, JSON.stringify(site.runs));
      await rows(PUBLISH_FIXTURES, shop, JSON.stringify(site.fixtures));
    },
    close: () => sql.end({ timeout: 2 }),
  };
};

type Row = Readonly<Record<string, unknown>>;

interface Address {
  readonly host: string;
  readonly port: number;
  readonly database: string | undefined;
  readonly user: string | undefined;
  readonly password: string | undefined;
  readonly ssl: "verify-full" | "require" | false;
}

/** As libpq reads an address (PostgreSQL manual, 34.1.1.2), the parts that are used here; the variables fill in what it leaves out. */
export const addressIn = (written: string | undefined, env: NodeJS.ProcessEnv): Address => {
  const url = urlIn(written ?? "postgres://");
  const said = (part: string): string | undefined => (part === "" ? undefined : decodeURIComponent(part));
  const host = url.searchParams.get("host") ?? said(url.hostname) ?? env["PGHOST"] ?? "localhost";
  return {
    host,
    port: Number(said(url.port) ?? url.searchParams.get("port") ?? env["PGPORT"] ?? 5432),
    database: said(url.pathname.slice(1)) ?? env["PGDATABASE"],
    user: said(url.username) ?? url.searchParams.get("user") ?? env["PGUSER"],
    password: said(url.password) ?? env["PGPASSWORD"],
    ssl: tlsFor(host, url.searchParams.get("sslmode") ?? env["PGSSLMODE"]),
  };
};

const urlIn = (written: string): URL => {
  const url = URL.canParse(written) ? new URL(written) : undefined;
  if (url?.protocol === "postgres:" || url?.protocol === "postgresql:") return url;
  throw new ShareError("The address of the share is no PostgreSQL URL: postgres://USER@HOST/DATABASE");
};

const HERE: readonly string[] = ["localhost", "127.0.0.1", "[::1]", "::1"];

/** TLS with a verified certificate for every server that is not this computer; less only where a person wrote so. */
const tlsFor = (host: string, mode: string | undefined): Address["ssl"] => {
  if (host.startsWith("/") || mode === "disable") return false;
  if (mode === "require") return "require";
  return HERE.includes(host) && mode === undefined ? false : "verify-full";
};

const benchIn = (row: Row): SharedBench => ({
  origin: String(row["origin"]),
  number: Number(row["number"]),
  hash: String(row["hash"]),
  name: String(row["name"]),
  forgotten: row["forgotten"] !== null,
});

/** The first event of a new bench id makes it known. */
const JOIN = `
  INSERT INTO limber.benches (origin, shop, name) VALUES ($1, $2, $3)
  ON CONFLICT (origin) DO UPDATE SET shop = excluded.shop, name = excluded.name, seen = now()
`;

const push = async (
  sql: Sql,
  { origin, shop, name }: { readonly origin: string; readonly shop: string; readonly name: string },
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
    await sql.begin(async (work) => {
      await work.unsafe("INSERT INTO limber.benches (origin, shop, name) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING", [
        origin,
        shop,
        name,
      ]);
      await work.unsafe("SELECT limber.push($1, $2::text::json)", [origin, JSON.stringify(batch)]);
    });
    return "stored";
  } catch (error) {
    if (codeOf(error) === "LB001") return "forgotten";
    if (codeOf(error) === "LB002") return "taken";
    throw inWords(error);
  }
};

/** The hash before is that of the event before, so it need not be kept twice. */
const PULL = `
  SELECT number, time, counter, encode(hash, 'hex') AS hash, event,
    coalesce((SELECT encode(hash, 'hex') FROM limber.events AS past WHERE past.origin = now.origin AND past.number = now.number - 1), '${NO_HASH}') AS before
  FROM limber.events AS now WHERE origin = $1 AND number > $2 ORDER BY number LIMIT $3
`;

const pulled = (rows: readonly Row[], origin: string): readonly ChainedEvent[] =>
  rows.map((row) => ({
    origin,
    number: Number(row["number"]),
    time: Number(row["time"]),
    counter: Number(row["counter"]),
    before: String(row["before"]),
    hash: String(row["hash"]),
    event: String(row["event"]),
  }));

const missing = async (sql: Sql): Promise<number> => {
  const [there] = await sql.unsafe("SELECT to_regclass('limber.migrations') IS NOT NULL AS there");
  if (!there?.["there"]) return MIGRATIONS.length;
  const [row] = await sql.unsafe("SELECT count(*)::int AS taken FROM limber.migrations");
  const taken = Number(row?.["taken"]);
  if (taken > MIGRATIONS.length)
    throw new ShareError("The share was made by a newer Limber. Update this one; until then nothing is exchanged.");
  return MIGRATIONS.length - taken;
};

/** Two benches may join in the same moment: the second waits and finds nothing to do. */
const migrate = (sql: Sql): Promise<void> =>
  sql.begin(async (work) => {
    await work.unsafe("SELECT pg_advisory_xact_lock(1280131666)");
    await work.unsafe("CREATE SCHEMA IF NOT EXISTS limber");
    await work.unsafe(
      "CREATE TABLE IF NOT EXISTS limber.migrations (number int PRIMARY KEY, at timestamptz NOT NULL DEFAULT now())",
    );
    const [row] = await work.unsafe("SELECT count(*)::int AS taken FROM limber.migrations");
    for (const [index, step] of MIGRATIONS.entries()) {
      if (index < Number(row?.["taken"])) continue;
      await work.unsafe(step);
      await work.unsafe("INSERT INTO limber.migrations (number) VALUES ($1)", [index + 1]);
    }
  }) as Promise<void>;

const PUBLISH_RUNS = `
  INSERT INTO limber.site_runs (shop, run, begun, origin, events, brief)
  SELECT $1, run, begun, origin, events, brief::jsonb
  FROM json_to_recordset($2::text::json) AS r(run text, begun text, origin text, events int, brief text)
  ON CONFLICT (shop, run) DO UPDATE SET begun = excluded.begun, origin = excluded.origin, events = excluded.events, brief = excluded.brief
  WHERE site_runs.events <= excluded.events
`;
const PUBLISH_FIXTURES = `
  INSERT INTO limber.site_fixtures (shop, serial, events, fixture)
  SELECT $1, serial, events, fixture::jsonb FROM json_to_recordset($2::text::json) AS r(serial text, events int, fixture text)
  ON CONFLICT (shop, serial) DO UPDATE SET events = excluded.events, fixture = excluded.fixture
  WHERE site_fixtures.events <= excluded.events
`;

const codeOf = (error: unknown): string =>
  typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";

/** By the codes of the system, of the driver, and of PostgreSQL (appendix A of its manual). */
const WORDS: Readonly<Record<string, string>> = {
  ECONNREFUSED: "No PostgreSQL answers there",
  ENOENT: "No PostgreSQL answers there",
  ENOTFOUND: "There is no computer of that name on the network",
  CONNECT_TIMEOUT: "The server does not answer",
  CONNECTION_CLOSED: "The server has closed the connection",
  CONNECTION_ENDED: "The server has closed the connection",
  CONNECTION_DESTROYED: "The connection was cut",
  ECONNRESET: "The connection was cut",
  "28P01": "The server refuses this user or password",
  "28000": "The server refuses this user",
  "3D000": "There is no such database on the server",
  "42501": "This user has not the rights that are needed on the server",
  "42P01": 'The share is not set up on this server: "limber share join" does it',
  "3F000": 'The share is not set up on this server: "limber share join" does it',
  "53100": "The disk of the server is full",
  "53300": "The server has no connection left",
  "57P01": "The server is being shut down",
  "57P03": "The server is starting up",
};

const inWords = (error: unknown): unknown => {
  if (error instanceof ShareError) return error;
  const code = codeOf(error);
  const tls = code.startsWith("ERR_TLS") || code.includes("CERT") || code.includes("SELF_SIGNED");
  const words = tls ? "The server's certificate cannot be verified" : WORDS[code];
  return words === undefined
    ? error
    : new ShareError(`${words}. Nothing is lost: this bench keeps its events and sends them later.`, { cause: error });
};
