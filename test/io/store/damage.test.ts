import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";
import { afterAll, expect, test } from "vitest";
import { TRIGGERS } from "../../../src/io/store/database.ts";
import { rescueJournal } from "../../../src/io/store/rescue.ts";
import { openTable } from "../../../src/io/store/table.ts";
import { JournalError } from "../../../src/run/ports.ts";
import { workplace } from "../../kit/limber.ts";
import { copied, DAMAGES, dice, metBy, toldBy, wholeJournal } from "./damage.ts";
import { ownFolder } from "./folder.ts";

const folder = mkdtempSync(join(tmpdir(), "limber-damage-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const whole = wholeJournal(join(folder, "whole"), "A");
const other = wholeJournal(join(folder, "other"), "B");
const readOnce = <T>(file: string, read: (table: ReturnType<typeof openTable>) => T): T => {
  const table = openTable(file, 1);
  try {
    return read(table);
  } finally {
    table.close();
  }
};
const WANTED = readOnce(copied(whole, join(folder, "as-it-was")), toldBy);
const ROWS = readOnce(copied(whole, join(folder, "rows")), (table) => table.page({ kind: "all" }, undefined, 10_000));

/** `npm run bench -- damage` does it a thousand times. */
const SEEDS = Array.from({ length: 12 }, (_, n) => n);

test.each(Object.entries(DAMAGES))(
  "%s: read the same, or refused or told in words; never different without a word",
  (name, damage) => {
    const met = SEEDS.map((seed) => {
      const file = copied(whole, join(ownFolder(), `${name}`));
      damage(file, dice(seed), other);
      return metBy(file, WANTED);
    });
    expect(
      met.filter((one) => !["the same", "refused in words", "told that its end is missing"].includes(one)),
    ).toEqual([]);
  },
);

test.each(Object.entries(DAMAGES))(
  "after %s what is sound is rescued, and every other event is listed",
  (_name, damage) => {
    for (const seed of SEEDS.slice(0, 6)) {
      const file = copied(whole, join(ownFolder(), "damaged"));
      damage(file, dice(seed), other);
      const out = join(ownFolder(), "rescued.db");
      const rescued = attempted(() => rescueJournal(file, out, "2026-11-28"));
      if (rescued === "refused in words") continue;
      const rows = readOnce(out, (table) => table.page({ kind: "all" }, undefined, 10_000));
      expect(rows.length).toBe(rescued.events);
      const known = new Map(ROWS.map(({ number, event }) => [number, event]));
      const foreign = rows.filter(({ origin }) => origin !== ROWS[0]!.origin);
      for (const { number, event } of rows) if (foreign.length === 0) expect(event).toBe(known.get(number));
      if (rows.length < ROWS.length) expect(rescued.lost).not.toEqual([]);
      for (const { origin, from, to } of rescued.lost.map(rangeIn))
        expect(rows.filter((row) => row.origin === origin && row.number >= from && row.number <= to)).toEqual([]);
    }
  },
);

/** "events 4 to 7 of bench B are missing", or a chain that once went further. */
const rangeIn = (words: string) => {
  const [, from, to, origin] = /events? (\d+)(?: to (\d+))? of bench ([0-9a-f]{12})/.exec(words) ?? [];
  if (origin) return { origin, from: Number(from), to: Number(to ?? from) };
  const [, ended, known, here] = /bench ([0-9a-f]{12}) had events up to number (\d+), here it ends at (\d+)/.exec(
    words,
  )!;
  return { origin: ended, from: Number(here) + 1, to: Number(known) };
};

const attempted = <T>(work: () => T): T | "refused in words" => {
  try {
    return work();
  } catch (error) {
    if (error instanceof JournalError) return "refused in words";
    throw error;
  }
};

test("a damaged event is named with number, run and date; the rest is in the rescued journal, which holds together", () => {
  const place = workplace();
  const file = copied(whole, join(place.folder, "damaged"));
  spoil(file, 40);
  const limber = (...args: readonly string[]) => place.limber(...args, "--journal", file);
  const named = expect.stringMatching(/event 40, of 2026-11-02 in run A-\d+, is not as it was written/);
  expect(limber("rebuild")).toMatchObject({ code: 3, err: named });

  const out = join(place.folder, "rescued.db");
  const rescue = limber("journal", "rescue", out);
  expect(rescue).toMatchObject({ code: 3, err: "" });
  expect(rescue.out).toContain(`${ROWS.length - 1} events of 24 runs, each as it was written`);
  expect(rescue.out).toMatch(/ {2}- event 40 of bench [0-9a-f]{12} is missing \(run A-\d+, 2026-11-02\)/);
  const check = place.limber("journal", "check", "--journal", out);
  expect(check).toMatchObject({ code: 0, err: "" });
  expect(check.out).toContain("Accepted: event 40 of bench");
  expect(JSON.parse(place.limber("export", "--json", "--journal", out).out).runs).toHaveLength(24);
  expect(limber("journal", "rescue", out)).toMatchObject({ code: 3, err: expect.stringContaining("exists already") });
  place.remove();
});

/** One letter of what was written, as a worn disk changes it. */
const spoil = (file: string, number: number): void => {
  const database = new DatabaseSync(file);
  database.exec(
    `DROP TRIGGER events_keep; UPDATE events SET event = replace(event, '2026-11-02', '2026-11-12') WHERE number = ${number}`,
  );
  database.exec(TRIGGERS.split("\n").find((line) => line.includes("events_keep"))!);
  database.close();
};

test("no command calls damage its own mistake, prints a stack or waits for ever", () => {
  const place = workplace();
  const tries = [
    { damage: "flipped bits", seed: 1 },
    { damage: "a page of zeros", seed: 2 },
    { damage: "a cut write-ahead log", seed: 3 },
  ] as const;
  for (const { damage, seed } of tries)
    for (const [n, args] of COMMANDS.entries()) {
      const file = copied(whole, join(place.folder, `${seed}-${n}`));
      DAMAGES[damage]!(file, dice(seed), other);
      const { code, err } = place.limber(
        ...args.map((one) => one.replace("OUT", join(place.folder, `out-${seed}-${n}`))),
        "--journal",
        file,
      );
      expect({ args, code, err }).toMatchObject({ code: expect.toSatisfy((one) => one === 0 || one === 3) });
      expect(err).not.toMatch(/mistake in Limber|\n {4}at /);
    }
  place.remove();
}, 120_000);

const COMMANDS = [
  ["runs"],
  ["history", "A-1"],
  ["stock"],
  ["export", "--json"],
  ["rebuild"],
  ["backup", "OUT"],
  ["journal", "check"],
  ["journal", "rescue", "OUT"],
];
