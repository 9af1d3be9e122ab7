import { chmodSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import pg from "pg";
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from "vitest";
import { workplace } from "../kit/limber.ts";
import { noPostgres, type OwnPostgres, ownPostgres } from "../kit/postgres.ts";

const missing = noPostgres();
if (missing) console.warn(`Logins of benches are NOT tested here: ${missing}.`);

/** What the guide tells the owner of a database to type, block by block. */
const [LOGINS = "", GONE = ""] = [
  ...readFileSync("docs/guide/sharing.md", "utf8").matchAll(/```sql\n([\s\S]*?)```/g),
].map(([, block]) => block);

describe.skipIf(missing)("the login of a bench that is forgotten", () => {
  let server: OwnPostgres;
  beforeAll(async () => {
    server = await ownPostgres();
    const rules = join(server.folder, "data", "pg_hba.conf");
    writeFileSync(rules, `local all shared scram-sha-256\n${readFileSync(rules, "utf8")}`);
    await server.stop("fast");
    await server.start();
    await asOwner("postgres", "CREATE DATABASE shop");
  });
  afterAll(async () => {
    await server?.remove();
  });

  const asOwner = async (database: string, text: string) => {
    const client = new pg.Client({ host: server.folder, user: "limber", database });
    await client.connect();
    try {
      for (const statement of text.split(/;\s*\n?/).filter(Boolean)) await client.query(statement);
    } finally {
      await client.end();
    }
  };

  /** A bench with a journal and an address file of its own, in the share. */
  const joined = (login: string, name: string) => {
    const place = workplace();
    onTestFinished(place.remove);
    const address = (as: string) => {
      const file = place.file("address", `postgres://${as}@localhost/shop?host=${server.folder}`);
      chmodSync(file, 0o600);
      return file;
    };
    const share = (...args: readonly string[]) => place.limber("share", ...args, "--journal", place.journal);
    const { code, err } = share("join", "--url-file", address(login), "--shop", name, "--name", name, "--yes");
    expect({ code, err }).toEqual({ code: 0, err: "" });
    const { bench } = JSON.parse(share("status", "--json").out) as { readonly bench: string };
    return { bench, share, address };
  };
  const typed = (out: string) => (out.match(/^ {2}(ALTER|SELECT).*$/gm) ?? []).map((line) => line.trim()).join("\n");

  test("as the guide sets it up, one for each bench: what the command prints takes it away, and the others go on", async () => {
    await asOwner("shop", LOGINS);
    await asOwner(
      "shop",
      "CREATE ROLE bench_1 LOGIN IN ROLE limber_benches; ALTER ROLE bench_1 SET role = limber_benches",
    );
    const [lost, other] = [joined("bench_2", "own logins"), joined("bench_1", "own logins")];
    const { out } = other.share("forget", lost.bench);
    expect(out).toBe(`Bench ${lost.bench} is forgotten: what it sends from now on is refused.
Its login to the database, "bench_2", still works and reads what is shared. No other bench uses it.
Whoever owns the database takes it away, and ends what is still connected:
  ALTER ROLE "bench_2" NOLOGIN;
  SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE usename = 'bench_2';
`);
    expect(lost.share("now").err).toContain("takes no more events of this bench");
    await asOwner("shop", typed(out));
    expect(typed(out).replaceAll('"', "")).toBe(GONE.trimEnd());
    expect(lost.share("now").err).toContain("Not shared: The server refuses this user.");
    expect(other.share("now").code).toBe(0);
  }, 120_000);

  test("one for all of them: it cannot be taken from one; a new password shuts it out, and the others need that too", async () => {
    await asOwner(
      "shop",
      "CREATE ROLE shared LOGIN PASSWORD 'first' IN ROLE limber_benches; ALTER ROLE shared SET role = limber_benches",
    );
    const [lost, other] = [joined("shared:first", "one login"), joined("shared:first", "one login")];
    const { out } = other.share("forget", lost.bench);
    expect(out).toContain(`"shared", still works and reads what is shared. It cannot be taken from this bench alone.`);
    expect(out).toContain(`These use it too:\n  ${other.bench}  one login\n`);
    await asOwner("shop", typed(out));
    for (const bench of [lost, other]) expect(bench.share("now").err).toContain("refuses this user or password");
    other.address("shared:a%20new%20password");
    expect(other.share("now").code).toBe(0);
  }, 120_000);

  test("a server that was set up before logins were noted: that is said, and what brings it up to date", async () => {
    const [lost, other] = [joined("bench_1", "older"), joined("bench_1", "older")];
    await asOwner("shop", `UPDATE limber.benches SET login = NULL WHERE origin = '${lost.bench}'`);
    expect(other.share("forget", lost.bench).out).toContain("Which one that is, this server does not know yet");
  }, 120_000);
});
