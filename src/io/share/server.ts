import type { Client, ClientConfig, QueryResultRow } from "pg";
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
  /** Other shops that have runs of the fixture with this serial number (`identityKey`). */
  shopsThatHad(serial: string): Promise<readonly string[]>;
  /** Its later events are refused. False where nobody knows it. */
  forget(origin: string): Promise<boolean>;
  /** Which of these photos it has; undefined where it was set up before there were any. */
  photosThere(names: readonly string[]): Promise<ReadonlySet<string> | undefined>;
  /** Keeps a photo under its name; of a bench that was forgotten nothing. */
  putPhoto(origin: string, name: string, bytes: Uint8Array): Promise<void>;
  photo(name: string): Promise<Uint8Array | undefined>;
  /** Writes what a reporting tool reads. What another bench has written from more events stays. */
  publish(site: SitePart): Promise<void>;
  close(): Promise<void>;
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

/** The world is wrong: the server cannot be reached, or refuses. Says what happened and what to do, never a password. */
export class ShareError extends Error {
  override readonly name = "ShareError";
}

/** Nobody waits longer for a server that does not answer. */
const PATIENCE_S = 10;

export const openShare = async (door: ShareDoor): Promise<PostgresShare> => {
  const { url, shop } = door;
  const ask = asker(await clientFor(url));
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
    forget: async (origin) => (await ask(FORGET, origin)).length > 0,
    photosThere: async (names) => {
      const [made] = await ask("SELECT to_regclass('limber.photos') IS NOT NULL AS made");
      if (!made?.["made"]) return undefined;
      const rows = await ask(PHOTOS_THERE, shop, JSON.stringify(names));
      return new Set(rows.map(({ name }) => String(name)));
    },
    putPhoto: async (origin, name, bytes) => {
      await ask(PUT_PHOTO, shop, name, Buffer.from(bytes), origin);
    },
    photo: async (name) => {
      const [row] = await ask("SELECT bytes FROM limber.photos WHERE shop = $1 AND name = $2", shop, name);
      return row && Uint8Array.from(row["bytes"]);
    },
    publish: async ({ runs, fixtures }) => {
      await ask(PUBLISH_RUNS, shop, JSON.stringify(runs));
      await ask(PUBLISH_FIXTURES, shop, JSON.stringify(fixtures));
    },
    close: () => ask.close(),
  };
};

/** Asks one thing after the other; connects with the first. Rejects with ShareError for whatever is not our own bug. */
interface Ask {
  (text: string, ...values: readonly (string | number | Buffer)[]): Promise<readonly QueryResultRow[]>;
  close(): Promise<void>;
}

const asker = (client: Client): Ask => {
  let connected: Promise<unknown> | undefined;
  // A connection that breaks while nothing is asked is noticed by the next question.
  client.on("error", () => undefined);
  const ask = async (
    text: string,
    ...values: readonly (string | number | Buffer)[]
  ): Promise<readonly QueryResultRow[]> => {
    try {
      connected ??= client.connect();
      await connected;
      // Several statements in one text may have no values.
      const { rows } = values.length > 0 ? await client.query(text, [...values]) : await client.query(text);
      return rows;
    } catch (error) {
      throw inWords(error);
    }
  };
  const close = async () => {
    if (connected) await client.end().catch(() => undefined);
  };
  return Object.assign(ask, { close });
};

/** All of it or nothing. */
const inOne = async (ask: Ask, work: () => Promise<void>): Promise<void> => {
  await ask("BEGIN");
  try {
    await work();
    await ask("COMMIT");
  } catch (error) {
    // Where the connection is gone the server has undone it by itself.
    await ask("ROLLBACK").catch(() => undefined);
    throw error;
  }
};

const clientFor = async (url: string | undefined): Promise<Client> => {
  const { host, port, database, user, password, ssl } = addressIn(url, process.env);
  const { default: pg } = await import("pg");
  const said: ClientConfig = {
    ...(database === undefined ? {} : { database }),
    ...(user === undefined ? {} : { user }),
    ...(password === undefined ? {} : { password }),
  };
  const tls = { "verify-full": true, require: { rejectUnauthorized: false }, none: false } as const;
  return new pg.Client({
    ...said,
    host,
    port,
    ssl: tls[ssl],
    connectionTimeoutMillis: PATIENCE_S * 1000,
    query_timeout: 6 * PATIENCE_S * 1000,
    application_name: "limber",
  });
};

interface Address {
  readonly host: string;
  readonly port: number;
  readonly database: string | undefined;
  readonly user: string | undefined;
  readonly password: string | undefined;
  readonly ssl: "verify-full" | "require" | "none";
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
  if (host.startsWith("/") || mode === "disable") return "none";
  if (mode === "require") return "require";
  return HERE.includes(host) && mode === undefined ? "none" : "verify-full";
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
  ON CONFLICT (origin) DO UPDATE SET shop = excluded.shop, name = excluded.name, seen = now()
`;

const BENCHES = `
  SELECT * FROM limber.benches WHERE shop IN (SELECT json_array_elements_text($1::json)) ORDER BY origin
`;
const SHOPS = "SELECT shop FROM limber.site_fixtures WHERE serial = $1 AND shop <> $2 ORDER BY shop";
const HASH_AT = "SELECT encode(hash, 'hex') AS hash FROM limber.events WHERE origin = $1 AND number = $2";
const FORGET = "UPDATE limber.benches SET forgotten = now() WHERE origin = $1 RETURNING origin";
const KNOWN = "INSERT INTO limber.benches (origin, shop, name) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING";

const push = async (
  ask: Ask,
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

const missing = async (ask: Ask): Promise<number> => {
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

const stepsTaken = async (ask: Ask): Promise<number> => {
  const [row] = await ask("SELECT count(*)::int AS taken FROM limber.migrations");
  return Number(row?.["taken"]);
};

/** Any number, the same for every bench: two may join in the same moment, the second waits and finds nothing to do. */
const MIGRATING = 1280131666;

const migrate = async (ask: Ask): Promise<void> => {
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

const PHOTOS_THERE =
  "SELECT name FROM limber.photos WHERE shop = $1 AND name IN (SELECT json_array_elements_text($2::json))";
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
  EPIPE: "The connection was cut",
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

/** What SQL of ours would be blamed for: wrong data, broken rules, wrong syntax (PostgreSQL's manual, appendix A). */
const OURS = ["22", "23", "42"];

/** The driver says some things without a code. */
const SAYINGS: readonly (readonly [says: RegExp, words: string])[] = [
  [/^Connection terminated|^Client (has encountered|was closed)/, "The connection was cut"],
  [/timeout/i, "The server does not answer"],
  [/does not support SSL/, "The server does not speak TLS, and without it nothing is sent over a network"],
];

/** Whatever else the system, the driver or the server says with a code is the world's trouble; anything else is our own bug. */
const inWords = (error: unknown): unknown => {
  if (error instanceof ShareError || !(error instanceof Error)) return error;
  const code = codeOf(error);
  const tls = code.startsWith("ERR_TLS") || code.includes("CERT") || code.includes("SELF_SIGNED");
  const saying = SAYINGS.find(([says]) => code === "" && says.test(error.message))?.[1];
  const words = tls ? "The server's certificate cannot be verified" : (WORDS[code] ?? saying);
  if (words === undefined && (code === "" || OURS.includes(code.slice(0, 2)))) return error;
  return new ShareError(
    `${words ?? `The exchange was cut short (${code})`}. Nothing is lost: this bench keeps its events and sends them later.`,
    { cause: error },
  );
};
