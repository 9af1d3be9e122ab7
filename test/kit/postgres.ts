import { execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** A PostgreSQL of the test's own: a new cluster on a Unix socket in a temporary folder, no port. */
export interface OwnPostgres {
  /** Of its database, as libpq reads it. */
  readonly url: string;
  readonly folder: string;
  /** As it is switched off, and on again with the same data. */
  stop(how: "fast" | "immediate"): Promise<void>;
  start(): Promise<void>;
  /** Stopped, and everything removed. */
  remove(): Promise<void>;
}

const VERSIONS = "/usr/lib/postgresql";

/** Where Debian puts the programs; the newest version from 15 on. */
const programs = (): string | undefined => {
  const versions = existsSync(VERSIONS)
    ? readdirSync(VERSIONS)
        .map(Number)
        .filter((version) => version >= 15)
    : [];
  const bin = join(VERSIONS, String(Math.max(...versions)), "bin");
  return versions.length > 0 && existsSync(join(bin, "initdb")) ? bin : undefined;
};

/** Why there is no PostgreSQL here, or undefined. */
export const noPostgres = (): string | undefined => {
  if (!programs()) return "PostgreSQL 15 or later is not installed (Debian: postgresql)";
  return isRoot() && !userId() ? 'as root it needs the user "postgres"' : undefined;
};

const isRoot = (): boolean => process.getuid?.() === 0;
/** PostgreSQL refuses to run as root: there it runs as the user that Debian made for it. */
const userId = (): number | undefined => {
  try {
    return Number(execFileSync("id", ["-u", "postgres"], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }));
  } catch {
    return undefined;
  }
};

export const ownPostgres = async (): Promise<OwnPostgres> => {
  const bin = programs();
  if (!bin) throw new Error("Bug: ask noPostgres first");
  const folder = mkdtempSync(join(tmpdir(), "limber-pg-"));
  const uid = isRoot() ? userId() : undefined;
  if (uid !== undefined) chownSync(folder, uid, -1);
  const as = uid === undefined ? {} : { uid };
  const data = join(folder, "data");
  execFileSync(
    join(bin, "initdb"),
    ["-D", data, "-U", "limber", "-A", "trust", "--no-sync", "-E", "UTF8", "--locale=C"],
    { ...as, stdio: "ignore", cwd: folder },
  );
  let server: ReturnType<typeof spawn> | undefined;
  const start = async () => {
    server = spawn(join(bin, "postgres"), ["-D", data, "-k", folder, "-c", "listen_addresses=", "-c", "fsync=off"], {
      ...as,
      stdio: "ignore",
      cwd: folder,
    });
    for (;;) {
      const ready = spawn(join(bin, "pg_isready"), ["-h", folder, "-U", "limber", "-d", "postgres"], {
        stdio: "ignore",
      });
      const [code] = await once(ready, "exit");
      if (code === 0) return;
      if (server.exitCode !== null) throw new Error(`PostgreSQL did not start (exit code ${server.exitCode})`);
    }
  };
  const stop = async (how: "fast" | "immediate") => {
    if (!server || server.exitCode !== null) return;
    const gone = once(server, "exit");
    // What PostgreSQL's manual (19.5) says of signals: SIGINT shuts down fast, SIGQUIT as a power cut does.
    server.kill(how === "fast" ? "SIGINT" : "SIGQUIT");
    await gone;
  };
  await start();
  return {
    url: `postgres:///postgres?host=${encodeURIComponent(folder)}&user=limber`,
    folder,
    start,
    stop,
    remove: async () => {
      await stop("immediate");
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
