import { spawnSync } from "node:child_process";
import { once } from "node:events";
import { chmodSync, readFileSync } from "node:fs";
import { join } from "node:path";
import pg from "pg";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { keepPhoto } from "../../src/io/phone/photos.ts";
import { toRow } from "../../src/io/store/row.ts";
import { openTable } from "../../src/io/store/table.ts";
import { jpegWith } from "../io/phone/pictures.ts";
import { built, program } from "../kit/built.ts";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";
import { noPostgres, type OwnPostgres, ownPostgres } from "../kit/postgres.ts";
import { eventsOf, foundBody } from "../run/memory/happened.ts";

const missing = noPostgres();
if (missing) console.warn(`limber share over a real PostgreSQL is NOT tested here: ${missing}.`);

test("a bench by itself takes part in no share, is told so, and nothing listens or is asked", () => {
  const place = workplace();
  for (const args of [["status"], ["now"], ["forget", "x"]])
    expect(place.limber("share", ...args, "--journal", place.journal)).toMatchObject({
      code: 2,
      err: expect.stringContaining("is not in a share"),
    });
  place.remove();
});

/** What of the share a process loads, told on stderr by a hook of Node's own (nodejs.org/api/module.html, customization hooks). */
const TELLS = `export const resolve = (name, context, next) => {
  if (name === "pg" || /share-worker|sharer|share\\/server/.test(name)) process._rawDebug("LOADS " + name);
  return next(name, context);
}`;
const HOOK = `import { register } from "node:module"; register(${JSON.stringify(`data:text/javascript,${encodeURIComponent(TELLS)}`)});`;
const loadedBy = (place: ReturnType<typeof workplace>, ...args: readonly string[]): readonly string[] => {
  const { stderr } = spawnSync(process.execPath, [join(built(), "start.js"), ...args, "--journal", place.journal], {
    encoding: "utf8",
    env: {
      PATH: process.env["PATH"] ?? "",
      HOME: place.folder,
      NODE_OPTIONS: `--import=data:text/javascript,${encodeURIComponent(HOOK)}`,
    },
  });
  return stderr.split("\n").filter((line) => line.startsWith("LOADS "));
};

test("a bench by itself loads nothing of the share, whatever it does; one that shares does", () => {
  const place = workplace();
  const sweep = [
    "sweep",
    "--watcher",
    "1",
    "--fast",
    "--sequence",
    place.file("short.yaml", SHORT_SEQUENCE),
    "--serial",
    "A-1",
  ];
  for (const args of [sweep, ["runs"], ["stock"], ["--help"]]) expect(loadedBy(place, ...args)).toEqual([]);
  const settings = { version: 1, address: { kind: "environment" }, shop: "", name: "bench" };
  place.file("journal.db-share.json", JSON.stringify(settings));
  expect(loadedBy(place, ...sweep)).toEqual(expect.arrayContaining([expect.stringContaining("sharer.js")]));
  place.remove();
}, 120_000);

interface StockRow {
  readonly serial: string;
  readonly profile: string;
  readonly state: string;
  readonly runs: number;
  readonly run: string;
  readonly at: string;
  readonly because: readonly string[];
}

const openRunOf = (json: string, serial: string): string | undefined =>
  /^[[{]/.test(json)
    ? (JSON.parse(json) as readonly { readonly run: string; readonly serial: string; readonly ended: string }[]).find(
        (one) => one.serial === serial && one.ended === "open",
      )?.run
    : undefined;

const rackOf = (serial: string): string => `rack: small
title: Small
lines:
  - { universe: 1, output: sim }
fixtures:
  - { serial: ${serial}, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 1 }
`;

describe.skipIf(missing)("benches that share", () => {
  let server: OwnPostgres;
  const [a, b] = [workplace(), workplace()];
  const address = () => a.file("address", server.url);
  beforeAll(async () => {
    server = await ownPostgres();
    chmodSync(address(), 0o600);
  }, 120_000);
  afterAll(async () => {
    await server?.remove();
    for (const place of [a, b]) place.remove();
  });
  const at = (place: typeof a, ...args: readonly string[]) => place.limber(...args, "--journal", place.journal);
  const join_ = (place: typeof a, name: string) =>
    at(place, "share", "join", "--url-file", join(a.folder, "address"), "--name", name, "--yes");
  const sweep = (place: typeof a, serial: string) =>
    at(
      place,
      "sweep",
      "--watcher",
      "1",
      "--fast",
      "--sequence",
      place.file("short.yaml", SHORT_SEQUENCE),
      "--serial",
      serial,
      "--person",
      "KM",
    );

  test("nobody says yes: nothing is made; an address that others may read is refused", () => {
    const args = ["share", "join", "--url-file", join(a.folder, "address")];
    expect(at(a, ...args)).toMatchObject({ code: 2, err: expect.stringContaining("--yes") });
    chmodSync(join(a.folder, "address"), 0o644);
    expect(at(a, ...args, "--yes")).toMatchObject({ code: 3, err: expect.stringContaining("chmod 600") });
    chmodSync(join(a.folder, "address"), 0o600);
  });

  test("what one bench sweeps is in the history at the other; each exchanges by itself", () => {
    expect(join_(a, "front bench")).toMatchObject({
      code: 0,
      err: "",
      out: expect.stringMatching(/Joined as bench [0-9a-f]{12}, "front bench"/),
    });
    expect(join_(b, "back bench").code).toBe(0);
    expect(sweep(a, "A-1")).toMatchObject({ code: 0, err: "" });
    const now = at(b, "share", "now");
    expect(now.out).toMatch(/0 events sent, \d\d+ events received/);
    expect(at(b, "history", "A-1").out).toContain("History: A-1");
    expect(at(b, "stock", "--simulated", "--json").out).toBe(at(a, "stock", "--simulated", "--json").out);
    const status = at(b, "share", "status");
    expect(status.out).toMatch(/back bench[\s\S]*front bench: \d+ events there, \d+ here/);
    expect(readFileSync(`${a.journal}-share.json`, "utf8")).not.toContain("postgres://");
  }, 120_000);

  test("the server gone: the run ends as ever, what is not shared is said, and goes over later", async () => {
    await server.stop("immediate");
    const away = sweep(a, "A-2");
    expect(away).toMatchObject({
      code: 0,
      err: expect.stringContaining(
        "Not shared: No PostgreSQL answers there. Nothing is lost: this bench keeps its events and sends them later.",
      ),
    });
    await server.start();
    expect(at(a, "share", "now").out).toMatch(/\d+ events sent/);
    at(b, "share", "now");
    expect(at(b, "history", "A-2").code).toBe(0);
  }, 120_000);

  test("a fixture that one bench has open is said to be open at the other, however a run is begun there", async () => {
    const long = a.file(
      "long.yaml",
      "sequence: long\ntitle: Long\nsteps:\n  - { sweep: Pan, seconds: 600, passes: 9 }\n",
    );
    const args = ["sweep", "--watcher", "1", "--sequence", long, "--serial", "A-9", "--journal", a.journal];
    const child = a.starting(...args);
    const closed = once(child, "close");
    let run: string | undefined;
    while (run === undefined) run = openRunOf(at(a, "runs", "--json").out, "A-9");
    child.kill("SIGKILL");
    await closed;
    at(a, "share", "now");
    at(b, "share", "now");

    const said = `A-9 is open at another bench of the share too: run ${run}`;
    expect(sweep(b, "A-9").err).toContain(said);
    const short = b.file("short.yaml", SHORT_SEQUENCE);
    const watched = ["--watcher", "1", "--fast", "--sequence", short, "--journal", b.journal];
    expect(at(b, "rack", "run", b.file("rack.yaml", rackOf("A-9")), ...watched).err).toContain(said);
    const scanned = spawnSync(process.execPath, [program(), "shift", "--person", "KM", "--output", "sim", ...watched], {
      env: { PATH: process.env["PATH"] ?? "", HOME: b.folder },
      encoding: "utf8",
      input: "A-9\n\n.\n",
    });
    expect(scanned.stderr).toContain(said);
    // It is the other bench's to go on with: here a run of its own was begun each time, and none is left to take up.
    expect(scanned.stdout).not.toContain("It goes on");
    expect(at(b, "resume", "--watcher", "1", "--fast")).toMatchObject({
      code: 2,
      err: expect.stringContaining("no unfinished run"),
    });
    expect(at(b, "resume", run, "--output", "sim", "--watcher", "1", "--fast").err).toContain(said);
  }, 240_000);

  test("what a reporting tool reads are the numbers of limber stock --json", async () => {
    const c = workplace();
    const table = openTable(c.journal, 30);
    for (const [n, result] of (["fail", "pass", "fail"] as const).entries()) {
      const after = result === "fail" ? [foundBody("pan-belt-slack")] : [];
      table.insert(
        eventsOf({ run: `run-${n}`, serial: `R-${n % 2}`, steps: [{ of: "Pan", result }], after }).map(toRow),
      );
    }
    table.close();
    const joined = at(c, "share", "join", "--url-file", join(a.folder, "address"), "--shop", "reports", "--yes");
    expect(joined.code).toBe(0);
    const told = JSON.parse(at(c, "stock", "--json").out) as { readonly fixtures: readonly StockRow[] };
    const client = new pg.Client({ host: server.folder, user: "limber", database: "postgres" });
    await client.connect();
    const read = async (view: string) =>
      (await client.query(`SELECT * FROM limber.${view} WHERE shop = 'reports' ORDER BY serial`)).rows;
    const [fixtures, due, runs] = [await read("fixtures"), await read("due"), await read("runs")];
    await client.end();
    c.remove();
    expect(fixtures).toEqual(
      told.fixtures.map(({ serial, profile, state, runs: count, run, at: when }) => ({
        shop: "reports",
        serial,
        profile,
        state,
        runs: count,
        last_run: run,
        last_run_at: new Date(when),
      })),
    );
    expect(due.map(({ serial, reason }) => `${serial}: ${reason}`).toSorted()).toEqual(
      told.fixtures.flatMap(({ serial, because }) => because.map((reason) => `${serial}: ${reason}`)).toSorted(),
    );
    expect(runs).toHaveLength(told.fixtures.reduce((sum, { runs: count }) => sum + count, 0));
  }, 120_000);

  test("a fixture that comes from another shop brings its whole past, and nothing of that shop is told as one's own", () => {
    const [north, south] = [workplace(), workplace()];
    const join_to = (place: typeof a, shop: string) =>
      at(place, "share", "join", "--url-file", join(a.folder, "address"), "--shop", shop, "--yes").code;
    const table = openTable(north.journal, 30);
    for (const serial of ["M-1", "M-2"])
      table.insert(eventsOf({ run: `run-${serial}`, serial, steps: [{ of: "Pan", result: "fail" }] }).map(toRow));
    const picture = jpegWith();
    const file = keepPhoto(join(north.folder, "photos"), picture, "jpg");
    const taken = { kind: "photo-taken", file, of: { what: "fixture" } } as const;
    table.insert(eventsOf({ run: "run-photo", serial: "M-1", after: [taken] }).map(toRow));
    table.close();
    expect([join_to(north, "north"), join_to(south, "south")]).toEqual([0, 0]);
    expect(at(south, "history", "M-1").code).toBe(2);
    expect(at(south, "share", "follow", "M-9")).toMatchObject({
      code: 2,
      err: expect.stringContaining("no other shop"),
    });
    expect(at(south, "share", "follow", "m-1")).toMatchObject({
      code: 0,
      out: expect.stringMatching(/was in the shop "north"[\s\S]*0 photos sent, 1 photo received/),
    });
    expect(readFileSync(join(south.folder, "photos", file))).toEqual(Buffer.from(picture));
    expect(at(south, "history", "M-1", "--json").out).toBe(at(north, "history", "M-1", "--json").out);
    // And what is written there later, without being asked for again.
    const later = openTable(north.journal, 30);
    later.insert(eventsOf({ run: "later", serial: "M-1", steps: [{ of: "Pan", result: "pass" }] }).map(toRow));
    later.close();
    for (const place of [north, south]) expect(at(place, "share", "now").code).toBe(0);
    expect(at(south, "history", "M-1").out).toContain("later");
    expect(at(north, "share", "follow", "M-1")).toMatchObject({
      code: 2,
      err: expect.stringContaining("no other shop"),
    });
    for (const place of [north, south]) place.remove();
  }, 120_000);

  test("a bench that is forgotten is told so, and the others are spared its events", () => {
    const { bench } = JSON.parse(at(a, "share", "status", "--json").out) as { readonly bench: string };
    expect(at(b, "share", "forget", bench).code).toBe(0);
    expect(sweep(a, "A-3").err).toContain("takes no more events of this bench");
    at(b, "share", "now");
    expect(at(b, "history", "A-3").code).toBe(2);
    expect(at(a, "share", "leave").code).toBe(0);
    expect(sweep(a, "A-3")).toMatchObject({ code: 0, err: "" });
  }, 120_000);
});
