import { spawnSync } from "node:child_process";
import { chmodSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { exchangeAndKill } from "../io/share/killing.ts";
import { built } from "../kit/built.ts";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";
import { noPostgres, type OwnPostgres, ownPostgres } from "../kit/postgres.ts";

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
  const { stderr } = spawnSync(process.execPath, [join(built(), "main.js"), ...args, "--journal", place.journal], {
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
    expect(away).toMatchObject({ code: 0, err: expect.stringContaining("Not shared: No PostgreSQL answers there") });
    await server.start();
    expect(at(a, "share", "now").out).toMatch(/\d+ events sent/);
    at(b, "share", "now");
    expect(at(b, "history", "A-2").code).toBe(0);
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

  test("three processes, killed while the server falls and connections break: in the end all have the same, nothing lost, nothing twice", async () => {
    const { tables, ...toll } = await exchangeAndKill(built(), b.folder, server, 6);
    expect(toll).toMatchObject({ lost: [], twice: [], findings: 0 });
    expect(toll.announced).toBeGreaterThan(6 * 3);
    expect(new Set(tables).size).toBe(1);
  }, 300_000);
});
