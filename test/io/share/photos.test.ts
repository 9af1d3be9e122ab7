import { createHash } from "node:crypto";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import { afterAll, beforeAll, beforeEach, describe, expect, onTestFinished, test } from "vitest";
import { exchangeOnce } from "../../../src/app/share/exchange-once.ts";
import type { ShareSettings } from "../../../src/app/share/settings.ts";
import { doneInWords, troublesIn } from "../../../src/app/share/sharer.ts";
import { keepPhoto } from "../../../src/io/phone/photos.ts";
import { openShare } from "../../../src/io/share/server.ts";
import { toRow } from "../../../src/io/store/row.ts";
import { type JournalTable, openTable } from "../../../src/io/store/table.ts";
import { noPostgres, type OwnPostgres, ownPostgres } from "../../kit/postgres.ts";
import { eventsOf } from "../../run/memory/happened.ts";
import { jpegWith } from "../phone/pictures.ts";

const missing = noPostgres();
const PICTURE = jpegWith();
const NAME = `${createHash("sha256").update(PICTURE).digest("hex")}.jpg`;

interface Bench {
  readonly folder: string;
  readonly journal: string;
  readonly table: JournalTable;
}

describe.skipIf(missing)("photos on a PostgreSQL of its own", () => {
  let server: OwnPostgres;
  let folder = "";
  let count = 0;
  let settings: ShareSettings;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "limber-share-"));
    server = await ownPostgres();
    writeFileSync(join(folder, "address"), server.url, { mode: 0o600 });
  });
  afterAll(async () => {
    await server?.remove();
    rmSync(folder, { recursive: true, force: true });
  });
  beforeEach(async () => {
    count += 1;
    settings = {
      version: 1,
      address: { kind: "file", file: join(folder, "address") },
      shop: `shop ${count}`,
      name: "",
    };
    const door = await openShare({ url: server.url, shop: settings.shop, name: "" });
    await door.migrate();
    await door.close();
  });

  const benchAt = (name: string): Bench => {
    const own = mkdtempSync(join(folder, `${name}-`));
    const journal = join(own, "journal.db");
    const table = openTable(journal, 5);
    onTestFinished(() => table.close());
    return { folder: own, journal, table };
  };
  /** A run with a photo, whose picture lies beside the journal. */
  const photographed = ({ folder: own, table }: Bench, run: string, file = NAME): void => {
    keepPhoto(join(own, "photos"), PICTURE, "jpg");
    const body = { kind: "photo-taken", file, of: { what: "fixture" } } as const;
    table.insert(eventsOf({ run, serial: "A-1", after: [body] }).map(toRow));
  };
  const shareOf = ({ table, journal }: Bench) => exchangeOnce(table, settings, journal);
  const photosAt = ({ folder: own }: Bench) => readdirSync(own).includes("photos") && readdirSync(join(own, "photos"));
  const sql = async (text: string, ...values: readonly unknown[]) => {
    const client = new pg.Client({ host: server.folder, user: "limber", database: "postgres" });
    client.on("error", () => undefined);
    await client.connect();
    try {
      return (await client.query(text, [...values])).rows;
    } finally {
      await client.end();
    }
  };

  test("a photo goes to the other benches with the event that names it, once, byte for byte", async () => {
    const [a, b] = [benchAt("a"), benchAt("b")];
    photographed(a, "run-1");
    const sent = await shareOf(a);
    expect(sent.outcome).toMatchObject({ photos: { sent: 1, received: 0, waiting: 0 } });
    expect(doneInWords(sent)).toMatch(/1 photo sent, 0 photos received$/);
    expect((await shareOf(b)).outcome).toMatchObject({ photos: { sent: 0, received: 1, waiting: 0 } });
    expect(readFileSync(join(b.folder, "photos", NAME))).toEqual(Buffer.from(PICTURE));
    for (const bench of [a, b])
      expect((await shareOf(bench)).outcome).toMatchObject({ photos: { sent: 0, received: 0, waiting: 0 } });
  });

  test("another shop's photos stay there", async () => {
    const a = benchAt("a");
    photographed(a, "run-1");
    await shareOf(a);
    settings = { ...settings, shop: "elsewhere" };
    const b = benchAt("b");
    photographed(b, "run-2");
    rmSync(join(b.folder, "photos"), { recursive: true });
    await shareOf(b);
    expect(photosAt(b)).toBe(false);
  });

  test("the photos of a shop that is followed come with its events, byte for byte, and stay that shop's on the server", async () => {
    const a = benchAt("a");
    photographed(a, "run-1");
    await shareOf(a);
    const followed = settings.shop;
    settings = { ...settings, shop: `${followed}, next door` };
    const b = benchAt("b");
    b.table.share.follow(followed);
    expect((await shareOf(b)).outcome).toMatchObject({ photos: { sent: 0, received: 1, waiting: 0 } });
    expect(readFileSync(join(b.folder, "photos", NAME))).toEqual(Buffer.from(PICTURE));
    expect((await shareOf(b)).outcome).toMatchObject({ photos: { sent: 0, received: 0, waiting: 0 } });
    expect(await sql("SELECT shop FROM limber.photos WHERE shop LIKE $1", `${followed}%`)).toEqual([
      { shop: followed },
    ]);
  });

  test("a photo that is missing or was changed on disk is fetched again when its shop is followed once more", async () => {
    const a = benchAt("a");
    photographed(a, "run-1");
    await shareOf(a);
    const followed = settings.shop;
    settings = { ...settings, shop: `${followed}, next door` };
    const b = benchAt("b");
    b.table.share.follow(followed);
    await shareOf(b);
    writeFileSync(join(b.folder, "photos", NAME), "not a picture");
    b.table.share.follow(followed);
    expect((await shareOf(b)).outcome).toMatchObject({ photos: { sent: 0, received: 1 } });
    expect(readFileSync(join(b.folder, "photos", NAME))).toEqual(Buffer.from(PICTURE));
  });

  test("a bench that was forgotten sends none", async () => {
    const a = benchAt("a");
    await sql(
      "INSERT INTO limber.benches (origin, shop, name, forgotten) VALUES ($1, $2, '', now())",
      a.table.share.owns().at(-1),
      settings.shop,
    );
    photographed(a, "run-1");
    await shareOf(a);
    expect(await sql("SELECT name FROM limber.photos WHERE shop = $1", settings.shop)).toEqual([]);
  });

  test("the server takes no picture under another's name, and none is taken from it", async () => {
    const other = `${"0".repeat(64)}.jpg`;
    const put = "INSERT INTO limber.photos (shop, name, bytes) VALUES ($1, $2, $3)";
    await expect(sql(put, settings.shop, other, Buffer.from(PICTURE))).rejects.toThrow(/check constraint/);
    await expect(sql(put, settings.shop, "../../x.jpg", Buffer.from(PICTURE))).rejects.toThrow(/check constraint/);
    // Whoever owns the server can take the rule away: the bench looks for itself.
    await sql("ALTER TABLE limber.photos DROP CONSTRAINT photos_check");
    const [a, b, c] = [benchAt("a"), benchAt("b"), benchAt("c")];
    photographed(a, "run-1", other);
    await shareOf(a);
    await sql(put, settings.shop, other, Buffer.from(PICTURE));
    c.table.share.follow(settings.shop);
    for (const [bench, shop] of [
      [b, settings.shop],
      [c, "next door"],
    ] as const) {
      settings = { ...settings, shop };
      expect((await shareOf(bench)).outcome).toMatchObject({ kind: "done", photos: { received: 0 } });
      expect(photosAt(bench)).toBe(false);
    }
  });

  test("on a server that was set up before there were photos they wait, events go on, and what to do is said", async () => {
    const a = benchAt("a");
    photographed(a, "run-1");
    await sql("ALTER TABLE limber.photos RENAME TO not_yet");
    const note = await shareOf(a);
    await sql("ALTER TABLE limber.not_yet RENAME TO photos");
    expect(note.outcome).toMatchObject({ kind: "done", photos: { sent: 0, waiting: 1 } });
    expect(troublesIn(note)).toEqual([
      '1 photo not shared yet: the server is set up for events alone. "limber share join" brings it up to date.',
    ]);
    expect((await shareOf(a)).outcome).toMatchObject({ photos: { sent: 1, waiting: 0 } });
  });
});
