import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { keepPhoto } from "../../src/io/phone/photos.ts";
import { toRow } from "../../src/io/store/row.ts";
import { openTable } from "../../src/io/store/table.ts";
import { jpegWith } from "../io/phone/pictures.ts";
import { workplace } from "../kit/limber.ts";
import { eventsOf } from "../run/memory/happened.ts";

const PICTURE = jpegWith();
const NAME = `${createHash("sha256").update(PICTURE).digest("hex")}.jpg`;
const LOST = `${"a".repeat(64)}.png`;

let place: ReturnType<typeof workplace>;
beforeEach(() => {
  place = workplace();
  keepPhoto(join(place.folder, "photos"), PICTURE, "jpg");
  const table = openTable(place.journal, 5);
  const taken = [NAME, LOST].map(
    (file) => ({ kind: "photo-taken", file, of: { what: "look", inspection: "menu-address" } }) as const,
  );
  table.insert(eventsOf({ run: "run-1", serial: "A-1", after: taken }).map(toRow));
  table.close();
});
afterEach(() => place.remove());

test("a backup takes the photos along, and says which are not there", () => {
  const copy = join(place.folder, "elsewhere", "copy.db");
  mkdirSync(dirname(copy));
  const { code, err } = place.limber("backup", copy, "--journal", place.journal);
  expect(code).toBe(0);
  expect(err).toContain(`1 photo copied to ${join(dirname(copy), "photos")}.`);
  expect(err).toContain("1 photo missing beside the journal, or changed since: not copied.");
  expect(readFileSync(join(dirname(copy), "photos", NAME))).toEqual(Buffer.from(PICTURE));
});

test("a photo that was changed is not copied as what it was", () => {
  writeFileSync(join(place.folder, "photos", NAME), "another");
  const copy = join(place.folder, "copy", "copy.db");
  mkdirSync(dirname(copy));
  expect(place.limber("backup", copy, "--journal", place.journal).err).toContain("2 photos missing");
  expect(readdirSync(dirname(copy))).not.toContain("photos");
});

test("an export names every photo with what it shows, and copies the pictures where that is asked for", () => {
  const pictures = join(place.folder, "pictures");
  const { out, err } = place.limber("export", "--json", "--photos", pictures, "--journal", place.journal);
  expect(JSON.parse(out).runs[0].photos).toMatchObject([
    { file: NAME, of: { what: "look", inspection: "menu-address" }, person: "KM" },
    { file: LOST },
  ]);
  expect(err).toContain(`1 photo copied to ${pictures}.`);
  expect(readdirSync(pictures)).toEqual([NAME]);
});

test("the table has a row for each", () => {
  const { out } = place.limber("export", "--csv", "--journal", place.journal);
  const rows = out.split(/\r?\n/).filter((row) => row.includes("photo,look menu-address"));
  expect(rows).toHaveLength(2);
  expect(rows[0]).toContain(NAME);
});

test("a folder that cannot be written is said, and the export itself is there", () => {
  const blocked = place.file("a-file", "");
  const { code, err, out } = place.limber(
    "export",
    "--json",
    "--photos",
    join(blocked, "x"),
    "--journal",
    place.journal,
  );
  expect(code).not.toBe(0);
  expect(err).toContain("the photos cannot be written there");
  expect(JSON.parse(out).runs).toHaveLength(1);
  rmSync(blocked);
});
