import { execFileSync, spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import { afterAll, beforeAll, beforeEach, describe, expect, onTestFinished, test, vi } from "vitest";
import { addressIn, askerAt } from "../../../src/io/share/connection.ts";
import { MIGRATIONS } from "../../../src/io/share/migrations.ts";
import { openShare, type PostgresShare } from "../../../src/io/share/server.ts";
import { toRow } from "../../../src/io/store/row.ts";
import { type JournalTable, openTable } from "../../../src/io/store/table.ts";
import { stockOf } from "../../../src/run/memory/stock.ts";
import { exchange } from "../../../src/run/sharing/exchange.ts";
import { noPostgres, type OwnPostgres, ownPostgres } from "../../kit/postgres.ts";
import { eventsOf, foundBody } from "../../run/memory/happened.ts";
import { smallDisk } from "../store/small-disk.ts";
import { noSmallDisk } from "../store/small-mount.ts";

const missing = noPostgres();
if (missing) console.warn(`Sharing over a real PostgreSQL is NOT tested here: ${missing}.`);

describe("an address", () => {
  test.each([
    { url: "postgres://km@db.shop.example/limber", ssl: "verify-full", because: "a server elsewhere is verified" },
    { url: "postgres://km@db.shop.example/limber?sslmode=prefer", ssl: "verify-full", because: "less is not enough" },
    { url: "postgres://km@db.shop.example/limber?sslmode=disable", ssl: "none", because: "a person wrote so" },
    { url: "postgres://km@localhost/limber", ssl: "none", because: "nothing leaves this computer" },
    { url: "postgres:///limber?host=/run/postgresql", ssl: "none", because: "neither over a Unix socket" },
  ])("$url: TLS $ssl, because $because", ({ url, ssl }) => {
    expect(addressIn(url, {})).toMatchObject({ ssl, database: "limber" });
  });

  test("what the URL leaves out the usual variables say", () => {
    const env = { PGHOST: "db.shop.example", PGUSER: "km", PGPASSWORD: "secret", PGDATABASE: "limber", PGPORT: "6432" };
    expect(addressIn(undefined, env)).toEqual({
      host: "db.shop.example",
      user: "km",
      password: "secret",
      database: "limber",
      port: 6432,
      ssl: "verify-full",
    });
  });

  test("anything else is refused in words that do not repeat it", () => {
    for (const url of ["", "secret", "http://km:secret@db/limber"])
      expect(() => addressIn(url, {})).toThrow(/no PostgreSQL URL(?!.*secret)/);
  });
});

test("a server that takes the connection and says nothing is waited for ten seconds, and said to be busy or out of reach", async () => {
  const folder = mkdtempSync(join(tmpdir(), "limber-share-"));
  const silent = createServer();
  onTestFinished(() => {
    vi.useRealTimers();
    silent.close();
    rmSync(folder, { recursive: true });
  });
  silent.listen(join(folder, ".s.PGSQL.5432"));
  const called = once(silent, "connection");
  const ask = await askerAt(`postgres:///limber?host=${folder}&user=km`);
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  let said: string | undefined;
  const answer = ask("SELECT 1").catch((error: Error) => {
    said = `${error.name}: ${error.message}`;
  });
  const [socket] = await called;
  onTestFinished(() => void socket.destroy());
  vi.advanceTimersByTime(9_999);
  await new Promise(setImmediate);
  expect(said).toBeUndefined();
  vi.advanceTimersByTime(1);
  await answer;
  expect(said).toBe("ShareError: The server has not answered within 10 seconds: it may be busy, or out of reach.");
});

describe.skipIf(missing)("on a PostgreSQL of its own", () => {
  let server: OwnPostgres;
  let folder = "";
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "limber-share-"));
    server = await ownPostgres();
  });
  afterAll(async () => {
    await server?.remove();
    rmSync(folder, { recursive: true, force: true });
  });
  let shop = "";
  let count = 0;
  beforeEach(() => {
    count += 1;
    shop = `shop ${count}`;
  });

  const share = async (): Promise<PostgresShare> => {
    const door = await openShare({ url: server.url, shop, name: "bench" });
    onTestFinished(() => door.close());
    await door.migrate();
    return door;
  };
  const bench = (name: string): JournalTable => openTable(join(folder, `${count}-${name}.db`), 5);
  const sql = async () => {
    const client = new pg.Client({ host: server.folder, user: "limber", database: "postgres" });
    client.on("error", () => undefined);
    await client.connect();
    onTestFinished(() => client.end());
    return async (text: string, ...values: readonly unknown[]) => (await client.query(text, [...values])).rows;
  };
  const write = (table: JournalTable, run: string, more = {}) =>
    table.insert(eventsOf({ run, serial: "A-1", steps: [{ of: "Pan", result: "fail" }], ...more }).map(toRow));
  const told = (table: JournalTable) => table.page({ kind: "all" }, undefined, 10_000).map(({ event }) => event);

  test("the schema is made step by step, once, also by two at once", async () => {
    const doors = await Promise.all([
      openShare({ url: server.url, shop, name: "a" }),
      openShare({ url: server.url, shop, name: "b" }),
    ]);
    await Promise.all(doors.map((door) => door.migrate()));
    for (const door of doors) expect(await door.missing()).toBe(0);
    expect(await (await sql())("SELECT count(*)::int AS steps FROM limber.migrations")).toEqual([
      { steps: MIGRATIONS.length },
    ]);
    for (const door of doors) await door.close();
  });

  test("events go over whole and verified, sent twice they are there once, and nobody can change them unseen", async () => {
    const door = await share();
    const [a, b, c] = [bench("a"), bench("b"), bench("c")];
    write(a, "run-1", {
      after: [foundBody("pan-belt-slack", "two\nlines, 'quoted' \"twice\" \\ \u202e \ud83d\ude00 \ud800")],
    });
    expect(await exchange(a.share, door)).toMatchObject({ pushed: 5, refused: [] });
    expect(await exchange(a.share, door)).toMatchObject({ pushed: 0, pulled: 0 });
    const [origin = ""] = a.share.owns();
    expect(await door.push(origin, a.share.chain(origin, 0, 100))).toBe("stored");
    expect(await exchange(b.share, door)).toMatchObject({ pulled: 5, refused: [] });
    expect(told(b)).toEqual(told(a));

    await (await sql())(
      "UPDATE limber.events SET event = replace(event, 'fail', 'pass') WHERE origin = $1 AND number = 3",
      origin,
    );
    expect(await exchange(c.share, door)).toMatchObject({ refused: [{ origin, number: 3 }] });
  });

  test("numbers that leave one out, or are in use, are not taken", async () => {
    const door = await share();
    const a = bench("a");
    write(a, "run-1");
    const [origin = ""] = a.share.owns();
    const all = a.share.chain(origin, 0, 100);
    expect(await door.push(origin, all.slice(1))).toBe("taken");
    expect(await door.push(origin, all.slice(0, 2))).toBe("stored");
    expect(await door.push(origin, [{ ...all[1]!, hash: "0".repeat(64) }])).toBe("taken");
    expect(await door.push(origin, all)).toBe("stored");
  });

  test("a bench that was forgotten is refused, and one that nobody knows is said to be unknown", async () => {
    const door = await share();
    const a = bench("a");
    write(a, "run-1");
    await exchange(a.share, door);
    expect(await door.forget(a.share.owns()[0]!)).toEqual({ login: "limber", sharedWith: expect.any(Array) });
    expect(await door.forget("nobody")).toBeUndefined();
    expect(await exchange(a.share, door)).toMatchObject({ forgotten: true });
    write(a, "run-2");
    expect(await exchange(a.share, door)).toMatchObject({ forgotten: true, pushed: 0 });
  });

  test("a shop hears of its own benches only", async () => {
    const door = await share();
    const a = bench("a");
    write(a, "run-1");
    await exchange(a.share, door);
    const other = await openShare({ url: server.url, shop: "another shop", name: "x" });
    expect((await other.benches([])).map(({ origin }) => origin)).not.toContain(a.share.owns()[0]);
    expect((await door.benches([])).map(({ origin }) => origin)).toEqual([a.share.owns()[0]]);
    await other.close();
  });

  test("the server gone, and back: nothing is lost, and it is said in words", async () => {
    const door = await share();
    const a = bench("a");
    write(a, "run-1");
    await server.stop("immediate");
    await expect(exchange(a.share, door)).rejects.toMatchObject({
      name: "ShareError",
      message: expect.stringMatching(/^(The connection was cut|No PostgreSQL answers there)\.$/),
    });
    await server.start();
    const again = await share();
    expect(await exchange(a.share, again)).toMatchObject({ pushed: 4 });
  });

  test("its disk full: said in words, all or nothing of a batch stored, and on it goes with room made", async ({
    skip,
  }) => {
    const without = noSmallDisk();
    skip(without !== undefined, without);
    const { folder: disk } = smallDisk(6000);
    execFileSync("chown", ["postgres", disk]);
    const all = await sql();
    await all(`CREATE TABLESPACE small LOCATION '${disk}'`);
    await all("CREATE DATABASE small");
    await all("ALTER DATABASE small SET default_tablespace = small");
    const door = await openShare({ url: server.url.replace("/postgres?", "/small?"), shop, name: "bench" });
    try {
      await door.migrate();
      const [a, b] = [bench("a"), bench("b")];
      const runs = Array.from({ length: 100 }, (_, n) => `run-${n}`);
      for (const run of runs) write(a, run);
      const filler = spawnSync("dd", ["if=/dev/zero", `of=${join(disk, "filler")}`, "bs=1k"], { stdio: "ignore" });
      expect(filler.status).not.toBe(0);
      await expect(exchange(a.share, door)).rejects.toMatchObject({
        name: "ShareError",
        message: expect.stringMatching(/^The disk of the server is full\.$/),
      });
      rmSync(join(disk, "filler"));
      await exchange(a.share, door);
      expect(await exchange(b.share, door)).toMatchObject({ pulled: 4 * runs.length, refused: [] });
      expect(told(b)).toEqual(told(a));
    } finally {
      await door.close();
      await all("DROP DATABASE small");
      await all("DROP TABLESPACE small");
    }
  });

  test("the views say what the stock says, and the reader's role reads them and nothing else", async () => {
    const door = await share();
    const a = bench("a");
    write(a, "run-1", { after: [foundBody("pan-belt-slack")] });
    write(a, "run-2", { serial: "A-2", steps: [{ of: "Pan", result: "pass" }] });
    a.insert([
      toRow({
        ...eventsOf({ run: "run-1" })[0]!,
        id: "repair",
        body: {
          kind: "repaired",
          what: "fault",
          fault: "pan-belt-slack",
          part: "belt",
          minutes: 12,
          initials: "KM",
          note: "",
        },
      }),
    ]);
    do while (a.derived.catchUp(1000).left > 0);
    while (a.derived.standings({ kind: "all" }, 0, 1000)?.kind !== "all");
    await door.publish(a.site.next(1000)!);

    const briefs = a.derived.briefs({ kind: "all" }, 0)!.map((text) => JSON.parse(text));
    const told = a.derived.standings({ kind: "all" }, 0, 0);
    const rows = told?.kind === "all" ? told.rows : [];
    const standings = new Map(rows.map(([serial, text]) => [serial, JSON.parse(text)]));
    const { fixtures } = stockOf(briefs, standings, "real");
    const all = await sql();
    const read = (view: string) => all(`SELECT * FROM limber.${view} WHERE shop = $1 ORDER BY 2, 3, 4`, shop);
    expect([...(await read("fixtures"))]).toEqual(
      fixtures.map(({ serial, profile, state, runs, run, at }) => ({
        shop,
        serial,
        profile,
        state,
        runs,
        last_run: run,
        last_run_at: new Date(at),
      })),
    );
    expect((await read("due")).map(({ serial, reason }) => `${serial}: ${reason}`).toSorted()).toEqual(
      fixtures.flatMap(({ serial, because }) => because.map((reason) => `${serial}: ${reason}`)).toSorted(),
    );
    expect(await read("runs")).toHaveLength(2);
    expect([...(await read("results"))]).toMatchObject([
      { run: "run-1", result: "fail" },
      { run: "run-2", result: "pass" },
    ]);
    expect([...(await read("repairs"))]).toMatchObject([
      { serial: "A-1", repaired: "pan-belt-slack", part: "belt", minutes: 12, person: "KM" },
    ]);

    await all("SET ROLE limber_reader");
    expect(await read("fixtures")).toHaveLength(2);
    for (const forbidden of [
      "SELECT * FROM limber.events",
      "SELECT * FROM limber.site_runs",
      "DELETE FROM limber.fixtures",
      "SELECT limber.push('x', '[]')",
    ])
      await expect(all(forbidden)).rejects.toMatchObject({ code: "42501" });
  });
});
