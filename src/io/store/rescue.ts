import { copyFileSync, existsSync, mkdtempSync, rmSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { type DatabaseSyncInstance as Database, DatabaseSync } from "@photostructure/sqlite";
import { grouped } from "../../domain/keys.ts";
import type { ChainHead } from "../../run/events/chain.ts";
import {
  type AcceptedFinding,
  findingInWords,
  findingKey,
  type JournalFinding,
} from "../../run/events/journal-finding.ts";
import { appendingTo } from "./appending.ts";
import { closeDatabase, inTransaction, openDatabase } from "./database.ts";
import { attempted, createPrivate, headFile } from "./journal-files.ts";
import { EVENT_COLUMNS, eventIn, PUT_EVENT, type StoredRow, storedRows, toRow, wrongIn } from "./row.ts";
import { inPlainWords } from "./trouble.ts";

/** What could be saved of a damaged journal. */
export interface Rescued {
  readonly events: number;
  readonly runs: number;
  /** What is not in the new journal, a sentence each. */
  readonly lost: readonly string[];
}

/**
 * Writes every event that is as it was written into a new journal, and notes in it what is missing. The damaged one is
 * read from a copy and left as it is. Throws JournalError.
 */
export const rescueJournal = (file: string, out: string, date: string): Rescued => {
  try {
    createPrivate(out, "refused");
    rmSync(out);
  } catch (error) {
    throw inPlainWords(error, out);
  }
  try {
    return withCopies(file, dirname(out), (copies) => rescued(copies, file, out, date));
  } catch (error) {
    for (const tail of ["", "-wal", "-shm", "-head"]) rmSync(out + tail, { force: true });
    throw inPlainWords(error, file);
  }
};

/** With its write-ahead log and without: the log may be a stranger's. SQLite tidies up a write-ahead log when it opens a file; that must not happen to the only one there is. */
const withCopies = <T>(file: string, beside: string, work: (copies: readonly string[]) => T): T => {
  const folder = mkdtempSync(join(beside, "rescue-"));
  try {
    const [copy, alone] = [join(folder, "journal.db"), join(folder, "alone.db")];
    for (const tail of ["", "-wal"]) if (existsSync(file + tail)) copyFileSync(file + tail, copy + tail);
    copyFileSync(file, alone);
    return work([copy, alone]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const rescued = (copies: readonly string[], file: string, out: string, date: string): Rescued => {
  const { sound, damaged } = readable(copies);
  const database = openDatabase(out, 2);
  try {
    const chained = sound.filter(({ origin }) => origin !== UNCHAINED);
    putBack(database, chained);
    const appending = appendingTo(database, out);
    appending.insert(unchained(sound, file));
    appending.close();
    const lost = losses(chained, damaged, headFile(file).read());
    const mark = database.prepare("INSERT INTO marks VALUES ('accepted', ?, 0, ?)");
    for (const one of lost) mark.run(one.key, `${one.words}; lost to damage, rescued ${date.slice(0, 10)}`);
    return {
      events: sound.length,
      runs: new Set(sound.map(({ run }) => run)).size,
      lost: [...lost.map(({ words }) => words), ...damaged.filter(({ origin }) => origin === UNCHAINED).map(oldWords)],
    };
  } finally {
    closeDatabase(database);
  }
};

interface ReadableRows {
  readonly sound: readonly StoredRow[];
  /** Damaged rows, as far as they can be read at all; what they say may be wrong. */
  readonly damaged: readonly StoredRow[];
}

const readable = (copies: readonly string[]): ReadableRows => {
  const rows = copies.flatMap(allRows);
  const isWhole = (row: StoredRow) => (row.origin === UNCHAINED ? readsAsEvent(row) : wrongIn(row) === undefined);
  const sound = new Map(
    rows.filter(isWhole).map((row) => [row.origin === UNCHAINED ? row.id : `${row.origin} ${row.number}`, row]),
  );
  const damaged = rows.filter((row) => !isWhole(row) && !sound.has(`${row.origin} ${row.number}`));
  return {
    sound: [...sound.values()],
    damaged: damaged.filter((row) => row.origin !== UNCHAINED || !sound.has(row.id)),
  };
};

/** An event of the first format had no chain: it counts as whole when it is an event. */
const readsAsEvent = (row: StoredRow): boolean => {
  try {
    return toRow(JSON.parse(row.event)).id === row.id;
  } catch {
    return false;
  }
};

/** Stands for the bench of an event of the first format. */
const UNCHAINED = "unchained";
const FIRST_FORMAT_COLUMNS = `serial, id, run, at, v, kind, event, '${UNCHAINED}' AS origin, serial AS number, 0 AS time, 0 AS counter,
  '' AS before, '' AS hash`;

/** Every row that the database still gives away, wherever pages between are spoilt. */
const allRows = (copy: string): readonly StoredRow[] => {
  const database = new DatabaseSync(copy);
  try {
    for (const columns of [EVENT_COLUMNS, FIRST_FORMAT_COLUMNS]) {
      const select = attempted(() => database.prepare(`SELECT ${columns} FROM events WHERE serial BETWEEN ? AND ?`));
      if (select) return rowsBetween((from, to) => storedRows(select, from, to), rowsThatFit(copy));
    }
    return [];
  } finally {
    database.close();
  }
};

/** No row is shorter than this many bytes, and `serial` counts from 1. */
const LEAST_ROW = 100;
const rowsThatFit = (copy: string): number => Math.ceil(statSync(copy).size / LEAST_ROW);

/** How many reads may fail before the file is beyond reading; what is then not read is listed as missing. */
const MOST_FAILURES = 100_000;

/** Half by half, until what cannot be read stands alone. */
const rowsBetween = (read: (from: number, to: number) => readonly StoredRow[], last: number): readonly StoredRow[] => {
  const rows: StoredRow[] = [];
  const open: (readonly [from: number, to: number])[] = [[1, last]];
  for (let failures = 0; failures < MOST_FAILURES; ) {
    const [from, to] = open.pop() ?? [];
    if (from === undefined || to === undefined) return rows;
    const found = attempted(() => read(from, to));
    if (found) for (const row of found) rows.push(row);
    else failures += 1;
    const middle = Math.floor((from + to) / 2);
    if (!found && from < to) open.push([middle + 1, to], [from, middle]);
  }
  return rows;
};
/** With their own numbers and hashes: the chain goes on where it is whole, and its gaps show. */
const putBack = (database: Database, rows: readonly StoredRow[]): void => {
  const put = database.prepare(PUT_EVENT);
  inTransaction(database, () => {
    for (const { id, run, at, v, kind, event, origin, number, time, counter, before, hash } of rows)
      put.run(id, run, at, v, kind, event, origin, number, time, counter, before, hash);
  });
};

const unchained = (rows: readonly StoredRow[], file: string) =>
  rows.filter(({ origin }) => origin === UNCHAINED).map((row) => toRow(eventIn(row, file)));

/** Numbers that are missing in a chain, and how far it once went. What a damaged row still says of run and date is told with it. */
const losses = (
  sound: readonly StoredRow[],
  damaged: readonly StoredRow[],
  head: ChainHead | undefined,
): readonly AcceptedFinding[] => {
  const gaps = grouped(sound, ({ origin }) => origin).flatMap((rows) =>
    gapsIn(
      rows[0].origin,
      rows.map(({ number }) => number).toSorted((a, b) => a - b),
    ),
  );
  const ended = head ? endOf(head, sound) : [];
  return [
    ...gaps.map((gap) => ({ key: findingKey(gap), words: `${findingInWords(gap)}${namesOf(gap, damaged)}` })),
    ...ended.map((end) => ({
      key: findingKey(end),
      words: `${findingInWords(end)}${namesOf({ origin: end.known.origin, from: end.here + 1, to: end.known.number }, damaged)}`,
    })),
  ];
};

const endOf = (known: ChainHead, sound: readonly StoredRow[]) => {
  const numbers = sound.filter(({ origin }) => origin === known.origin).map(({ number }) => number);
  const here = numbers.reduce((most, number) => Math.max(most, number), 0);
  return here < known.number ? [{ kind: "ended", known, here } as const] : [];
};

type ChainGap = Extract<JournalFinding, { readonly kind: "gap" }>;

const gapsIn = (origin: string, numbers: readonly number[]): readonly ChainGap[] =>
  numbers.flatMap((number, index) => {
    const before = numbers[index - 1] ?? 0;
    return number > before + 1 ? [{ kind: "gap", origin, from: before + 1, to: number - 1 }] : [];
  });

/** " (run R, 2026-11-25; ...)" as far as anything of it can be read. */
const namesOf = ({ origin, from, to }: Omit<ChainGap, "kind">, damaged: readonly StoredRow[]): string => {
  const within = damaged.filter((row) => row.origin === origin && row.number >= from && row.number <= to);
  const names = new Set(within.map(({ run, at }) => `run ${run}, ${at.slice(0, 10)}`));
  return names.size === 0 ? "" : ` (${[...names].join("; ")})`;
};

const oldWords = ({ number, run, at }: StoredRow): string =>
  `event ${number} is damaged (run ${run}, ${at.slice(0, 10)})`;
