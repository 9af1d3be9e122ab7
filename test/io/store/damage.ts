import { copyFileSync, existsSync, mkdirSync, readFileSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";
import { toRow } from "../../../src/io/store/row.ts";
import { type JournalTable, openTable } from "../../../src/io/store/table.ts";
import { inPlainWords } from "../../../src/io/store/trouble.ts";
import { findingInWords } from "../../../src/run/events/journal-finding.ts";
import { JournalError } from "../../../src/run/ports.ts";
import { eventsOf, foundBody } from "../../run/memory/happened.ts";

/** Whole numbers below `most`, the same for the same seed: xorshift32 (Marsaglia, 2003). */
export const dice = (seed: number): ((most: number) => number) => {
  let state = seed * 2654435761 + 1;
  return (most) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % most;
  };
};

const RUNS = 24;
const event = (n: number, prefix: string) =>
  eventsOf({
    run: `${prefix}-${n}`,
    serial: `${prefix}-${n % 5}`,
    steps: [
      { of: "Pan", result: n % 3 === 0 ? "fail" : "pass" },
      { of: "Iris", result: "pass" },
    ],
    ...(n % 3 === 0 ? { after: [foundBody("pan-belt-slack")] } : {}),
  });

/** A journal as a computer leaves it that lost its power: much in the file, the rest in the write-ahead log. */
export const wholeJournal = (folder: string, prefix: string): string => {
  mkdirSync(folder, { recursive: true });
  const file = join(folder, "live.db");
  const first = openTable(file, 1);
  for (let n = 0; n < RUNS - 6; n++) first.insert(event(n, prefix).map(toRow));
  level(first);
  first.close();
  // Closed or not, the file is complete only when the log has been written back into it.
  const database = new DatabaseSync(file);
  database.exec("PRAGMA wal_checkpoint(TRUNCATE)");
  database.close();
  const table = openTable(file, 1);
  for (let n = RUNS - 6; n < RUNS; n++) table.insert(event(n, prefix).map(toRow));
  level(table);
  const copy = join(folder, "journal.db");
  for (const tail of TAILS) copyFileSync(file + tail, copy + tail);
  table.close();
  return copy;
};

const TAILS = ["", "-wal", "-head"];

const level = (table: JournalTable): void => {
  do while (table.derived.catchUp(1000).left > 0);
  while (table.derived.standings({ kind: "all" }, 0, 1000) === undefined);
};

export const copied = (file: string, to: string): string => {
  mkdirSync(to, { recursive: true });
  const copy = join(to, "journal.db");
  for (const tail of TAILS) if (existsSync(file + tail)) copyFileSync(file + tail, copy + tail);
  return copy;
};

type Roll = (most: number) => number;

const changing = (file: string, change: (bytes: Buffer) => void): void => {
  const bytes = readFileSync(file);
  change(bytes);
  writeFileSync(file, bytes);
};

/** What befalls a file. `other` is somebody else's journal. */
export const DAMAGES: Readonly<Record<string, (file: string, roll: Roll, other: string) => void>> = {
  "flipped bits": (file, roll) =>
    changing(file, (bytes) => {
      for (let n = 1 + roll(8); n > 0; n--) {
        const at = roll(bytes.length);
        bytes[at] = bytes[at]! ^ (1 << roll(8));
      }
    }),
  "an overwritten block": (file, roll) =>
    changing(file, (bytes) => {
      const [at, length, filler] = [roll(bytes.length), 16 + roll(4096), roll(3)];
      for (let n = at; n < Math.min(at + length, bytes.length); n++) bytes[n] = filler === 0 ? 0 : roll(256);
    }),
  "a page of zeros": (file, roll) =>
    changing(file, (bytes) => {
      const page = roll(bytes.length / 4096);
      bytes.fill(0, page * 4096, (page + 1) * 4096);
    }),
  "two pages exchanged": (file, roll) =>
    changing(file, (bytes) => {
      const [a, b] = [roll(bytes.length / 4096) * 4096, roll(bytes.length / 4096) * 4096];
      const kept = Buffer.from(bytes.subarray(a, a + 4096));
      bytes.copy(bytes, a, b, b + 4096);
      kept.copy(bytes, b);
    }),
  "a cut end": (file, roll) => truncateSync(file, roll(readFileSync(file).length)),
  "a cut write-ahead log": (file, roll) => truncateSync(`${file}-wal`, roll(readFileSync(`${file}-wal`).length)),
  "a flipped bit in the write-ahead log": (file, roll) =>
    changing(`${file}-wal`, (bytes) => {
      const at = roll(bytes.length);
      bytes[at] = bytes[at]! ^ (1 << roll(8));
    }),
  "a foreign write-ahead log": (file, _, other) => copyFileSync(`${other}-wal`, `${file}-wal`),
  "no write-ahead log": (file) => writeFileSync(`${file}-wal`, ""),
  "a newer format": (file, roll) => {
    const database = new DatabaseSync(file);
    database.exec(`PRAGMA user_version = ${3 + roll(1000)}`);
    database.close();
  },
};

/** Everything that commands read from a journal, asked as they ask: rows that were thrown away are folded again. */
export const toldBy = (table: JournalTable): string => {
  const asked = <T>(read: (upto: number) => T | undefined): T => {
    for (let tries = 0; tries < 5; tries++) {
      level(table);
      const told = read(table.derived.catchUp(1).upto);
      if (told !== undefined) return told;
    }
    throw new Error("folded again and again");
  };
  return JSON.stringify([
    table.page({ kind: "all" }, undefined, 10_000).map((row) => row.event),
    asked((upto) => table.derived.briefs({ kind: "all" }, upto)),
    asked((upto) => table.derived.briefs({ kind: "fixture", serial: "A-1" }, upto)),
    asked((upto) => table.derived.teaching(upto)),
    asked((upto) => table.derived.standings({ kind: "all" }, upto, 1000)),
  ]);
};

/** What a reader of a damaged journal meets. Only the last two are wrong. */
export type Met =
  | "the same"
  | "refused in words"
  | "told that its end is missing"
  | "DIFFERENT WITHOUT A WORD"
  | `A STACK: ${string}`;

export const metBy = (file: string, wanted: string): Met => {
  let table: JournalTable | undefined;
  try {
    table = openTable(file, 1);
    if (table.check.ended().some((one) => findingInWords(one) !== "")) {
      toldBy(table);
      return "told that its end is missing";
    }
    return toldBy(table) === wanted ? "the same" : "DIFFERENT WITHOUT A WORD";
  } catch (error) {
    const told = inPlainWords(error, file);
    return told instanceof JournalError ? "refused in words" : `A STACK: ${told instanceof Error ? told.stack : told}`;
  } finally {
    table?.close();
  }
};
