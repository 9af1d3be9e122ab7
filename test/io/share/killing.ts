import { spawn } from "node:child_process";
import { once } from "node:events";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { DatabaseSync } from "@photostructure/sqlite";
import pg from "pg";
import { exchangeOnce, level } from "../../../src/app/share/exchange-once.ts";
import type { ShareSettings } from "../../../src/app/share/settings.ts";
import { ShareError } from "../../../src/io/share/connection.ts";
import { openShare } from "../../../src/io/share/server.ts";
import { type JournalTable, openTable } from "../../../src/io/store/table.ts";
import type { OwnPostgres } from "../../kit/postgres.ts";
import { eventsOf, foundBody } from "../../run/memory/happened.ts";
import { dice } from "../store/damage.ts";

/** What came of three benches that were killed again and again while they exchanged. */
export interface ShareToll {
  readonly rounds: number;
  readonly announced: number;
  /** Told as stored, and not at every bench in the end. */
  readonly lost: readonly string[];
  readonly twice: readonly string[];
  /** The derived tables and all events of each bench, byte for byte. */
  readonly tables: readonly string[];
  readonly findings: number;
  readonly exchanged: number;
  readonly failed: number;
}

const NAMES = ["one", "two", "three"];
const TEMPLATE = eventsOf({
  run: "run",
  serial: "A-1",
  steps: [{ of: "Pan", result: "fail" }],
  after: [foundBody("pan-belt-slack")],
});

/**
 * So many rounds, each with all three benches at work as processes of their own: every round one thing goes wrong, a
 * kill -9, connections cut in the middle, or the server switched off as by a power cut and on again. Fewer when the time is over.
 */
export const exchangeAndKill = async (
  dist: string,
  folder: string,
  server: OwnPostgres,
  rounds: number,
  isOver: () => boolean = () => false,
): Promise<ShareToll> => {
  const urlFile = join(folder, "address");
  writeFileSync(urlFile, server.url, { mode: 0o600 });
  const settings: ShareSettings = { version: 1, address: { kind: "file", file: urlFile }, shop: "", name: "bench" };
  await setUp(server.url);
  const announced = new Set<string>();
  const counts = { done: 0, failed: 0 };
  let round = 0;
  for (; round < rounds && !isOver(); round++) {
    const roll = dice(round);
    const benches = NAMES.map((name) =>
      benchProcess(dist, join(folder, `${name}.db`), settings, name, round * 1000, counts),
    );
    await Promise.all(benches.map((bench) => bench.spoke));
    await mishap(roll(3), server);
    for (const bench of benches) for (const id of await bench.killedAfter(1 + roll(4))) announced.add(id);
  }
  return {
    ...(await inTheEnd(folder, settings, announced)),
    rounds: round,
    exchanged: counts.done,
    failed: counts.failed,
  };
};

/** A busy computer may need longer than a bench waits for a server: then it is tried again, as benches do every minute. */
const TRIES = 20;

const setUp = async (url: string, left = TRIES): Promise<void> => {
  const door = await openShare({ url, shop: "", name: "bench" });
  try {
    await door.migrate();
  } catch (error) {
    if (!(error instanceof ShareError) || left === 1) throw error;
    await setUp(url, left - 1);
  } finally {
    await door.close();
  }
};

const exchangedAtLast = async (table: JournalTable, settings: ShareSettings, file: string): Promise<void> => {
  const troubles: string[] = [];
  while (troubles.length < TRIES) {
    const { outcome } = await exchangeOnce(table, settings, file);
    if (outcome.kind === "done") return;
    troubles.push(outcome.why);
  }
  throw new Error(`no exchange went through: ${troubles.join("; ")}`);
};

const mishap = async (which: number, server: OwnPostgres): Promise<void> => {
  if (which === 0) {
    await server.stop("immediate");
    await server.start();
  } else if (which === 1) {
    const client = new pg.Client({ host: server.folder, user: "limber", database: "postgres" });
    await client.connect();
    await client.query(
      "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND application_name = 'limber'",
    );
    await client.end();
  }
};

const benchProcess = (
  dist: string,
  file: string,
  settings: ShareSettings,
  name: string,
  first: number,
  counts: { done: number; failed: number },
) => {
  const args = ["test/io/share/bench-process.mjs", dist, file, JSON.stringify(settings), name, `${first}`];
  const child = spawn(process.execPath, args, {
    stdio: ["ignore", "pipe", "inherit"],
    env: { ...process.env, TEMPLATE: JSON.stringify(TEMPLATE) },
  });
  const closed = once(child, "close");
  const said: string[] = [];
  let [lines, wanted] = [0, Number.POSITIVE_INFINITY];
  let started = () => {};
  const spoke = new Promise<void>((resolve) => {
    started = resolve;
  });
  createInterface({ input: child.stdout }).on("line", (line) => {
    started();
    lines += 1;
    if (line === "exchanged done") counts.done += 1;
    else if (line === "exchanged failed") counts.failed += 1;
    else said.push(line);
    if (lines >= wanted) child.kill("SIGKILL");
  });
  return {
    spoke,
    killedAfter: async (more: number) => {
      wanted = lines + more;
      const [code, signal] = await closed;
      if (signal !== "SIGKILL") throw new Error(`bench ${name} ended by itself with ${code}`);
      return said;
    },
  };
};

const inTheEnd = async (folder: string, settings: ShareSettings, announced: ReadonlySet<string>) => {
  const benches = NAMES.map((name) => ({
    file: join(folder, `${name}.db`),
    table: openTable(join(folder, `${name}.db`), 30),
  }));
  // Everybody once to send, and once more to hear the rest.
  for (const { table, file } of [...benches, ...benches]) await exchangedAtLast(table, settings, file);
  const tables: string[] = [];
  const [lost, twice] = [new Set<string>(), new Set<string>()];
  let findings = 0;
  for (const { table, file } of benches) {
    level(table);
    findings += table.check.chain(undefined, 1_000_000).findings.length;
    table.close();
    const ids = idsIn(file);
    for (const id of announced) if (!ids.includes(id)) lost.add(id);
    for (const [n, id] of ids.entries()) if (ids.indexOf(id) !== n) twice.add(id);
    tables.push(tablesIn(file));
  }
  return { announced: announced.size, lost: [...lost], twice: [...twice], tables, findings };
};

const idsIn = (file: string): readonly string[] => {
  const database = new DatabaseSync(file);
  const ids = database
    .prepare("SELECT json_extract(event, '$.id') AS id FROM events")
    .all()
    .map(({ id }) => String(id));
  database.close();
  return ids;
};

const tablesIn = (file: string): string => {
  const database = new DatabaseSync(file);
  const all = [
    "SELECT * FROM runs ORDER BY begun",
    "SELECT * FROM fixtures ORDER BY fixture",
    "SELECT origin, number, time, counter, hex(hash), event FROM events ORDER BY time, counter, origin",
  ].map((sql) => JSON.stringify(database.prepare(sql).all()));
  database.close();
  return all.join("\n");
};
