import type { Client, ClientConfig, QueryResultRow } from "pg";

/** Asks one thing after the other; connects with the first. Rejects with ShareError for whatever is not our own bug. */
export interface ServerAsk {
  (text: string, ...values: readonly (string | number | Buffer)[]): Promise<readonly QueryResultRow[]>;
  close(): Promise<void>;
}

/**
 * A way to ask the server at this address; with `url` undefined the usual environment variables say it.
 * Nothing is connected before the first question. Rejects with ShareError where the address is no PostgreSQL URL.
 */
export const askerAt = async (url: string | undefined): Promise<ServerAsk> => asker(await clientFor(url));

/** The world is wrong: the server cannot be reached, or refuses. Says what happened and what to do, never a password. */
export class ShareError extends Error {
  override readonly name = "ShareError";
}

/**
 * Nobody waits longer for a server that does not answer. Enough for a lost packet to be sent again three times (after 1, 3 and
 * 7 s: RFC 6298); a server that is busier than that is left alone until the next minute.
 */
const PATIENCE_S = 10;

const asker = (client: Client): ServerAsk => {
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

/** Does the work within one transaction: all of it or nothing. Rejects with what the work rejected with. */
export const inOne = async (ask: ServerAsk, work: () => Promise<void>): Promise<void> => {
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

/**
 * Reads an address as libpq does (PostgreSQL manual, 34.1.1.2), the parts that are used here; the variables fill in what it
 * leaves out. Throws ShareError where it is no PostgreSQL URL.
 */
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

/** The code that the system, the driver or the server gave to an error, "" where there is none. */
export const codeOf = (error: unknown): string =>
  typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";

/** What is said for the codes of the system and of PostgreSQL (appendix A of its manual). */
const WORDS: Readonly<Record<string, string>> = {
  ECONNREFUSED: "No PostgreSQL answers there",
  ENOENT: "No PostgreSQL answers there",
  ENOTFOUND: "There is no computer of that name on the network",
  ETIMEDOUT: "The server is out of reach",
  EHOSTUNREACH: "There is no way to the server on this network",
  ENETUNREACH: "There is no way to the server on this network",
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
  [/^timeout expired/, `The server has not answered within ${PATIENCE_S} seconds: it may be busy, or out of reach`],
  [/timeout/i, `The server took longer than ${6 * PATIENCE_S} seconds over one request: it may be busy`],
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
  return new ShareError(`${words ?? `The server broke off (${code})`}.`, { cause: error });
};
