import { constants } from "node:os";
import { safeText } from "../../domain/problem/shown-text.ts";
import { JournalError, type JournalTrouble } from "../../run/ports.ts";

const RESCUE =
  '"limber journal rescue NEW-FILE" writes everything in it that is sound into a new journal and lists the rest.';

/** What a technician reads when the journal cannot be used: what happened, what is safe, what to do. */
const WORDS: Readonly<Record<JournalTrouble, (file: string) => string>> = {
  locked: (file) =>
    `${file} is in use by another program. Close that program (a second Limber, a database viewer, a backup), then try again.`,
  full: (file) =>
    `The disk with ${file} is full. Make room on it, then try again; what was stored before is still there.`,
  "read-only": (file) =>
    `${file} cannot be written: the file, its folder or the disk is read-only. Allow writing, or name another file.`,
  "newer-version": (file) =>
    `${file} was written by a newer Limber. Update this one, or name another file; nothing in it was changed.`,
  damaged: (file) => `${file} is damaged. Make a copy of it before anything else; ${RESCUE}`,
  "no-permission": (file) =>
    `No permission to use ${file}: it or its folder belongs to another user (was Limber once started as root?). Have the owner changed, or name another file.`,
  "not-a-journal": (file) => `${file} is not a Limber journal. Name another file; nothing in it was changed.`,
  exists: (file) => `${file} exists already and is left as it is. Name a file that does not exist yet.`,
  "worker-died": (file) =>
    `The part of Limber that writes the journal has stopped. Start Limber again; what was announced as stored is in ${file}.`,
};

/** The words for a trouble with a file; what a repairer of software would want to know goes into the cause. */
export const journalError = (code: JournalTrouble, file: string, cause?: unknown): JournalError =>
  new JournalError(code, WORDS[code](file), { cause });

/**
 * The error for one event that is not as it was written: which one, and what can be done. `number` is its place in its
 * bench's chain, from 1; `what` is for a repairer of software.
 */
export const damagedEvent = (
  file: string,
  { run, number, at }: { readonly run: string; readonly number: number; readonly at: string },
  what: string,
): JournalError =>
  new JournalError(
    "damaged",
    `${file} is damaged: event ${number}, of ${safeText(at.slice(0, 10))} in run ${safeText(run)}, is not as it was written. Make a copy of the file before anything else; ${RESCUE}`,
    { cause: what },
  );

/** Turns what SQLite or the file system says into plain words; anything else is our own bug and is passed on as it is. */
export const inPlainWords = (error: unknown, file: string): unknown => {
  if (error instanceof JournalError || !(error instanceof Error)) return error;
  const { code, errcode, systemErrno } = error as Partial<SystemTrouble>;
  const trouble = code === "ERR_SQLITE_ERROR" ? ofDatabase(errcode ?? 0, systemErrno) : OF_SYSTEM[code ?? ""];
  return trouble ? journalError(trouble, file, error) : error;
};

interface SystemTrouble {
  readonly code: string;
  readonly errcode: number;
  readonly systemErrno: number;
}

const OF_SYSTEM: Readonly<Record<string, JournalTrouble>> = {
  EACCES: "no-permission",
  EPERM: "no-permission",
  EROFS: "read-only",
  ENOSPC: "full",
  EDQUOT: "full",
  EISDIR: "not-a-journal",
  ENOTDIR: "not-a-journal",
  EEXIST: "exists",
  ENAMETOOLONG: "not-a-journal",
  // What Node says when it cannot make a folder on a read-only disk.
  ENOENT: "read-only",
  EIO: "damaged",
};

/** Primary result codes of SQLite (sqlite.org/rescode.html) that speak of the world and not of our SQL. */
const OF_SQLITE: Readonly<Record<number, JournalTrouble>> = {
  3: "no-permission",
  5: "locked",
  6: "locked",
  8: "read-only",
  10: "damaged",
  11: "damaged",
  13: "full",
  14: "no-permission",
  26: "not-a-journal",
};

/** The system's own reason says more than "disk I/O error" or "unable to open". */
const ofDatabase = (errcode: number, errno: number | undefined): JournalTrouble | undefined => {
  const name = Object.entries(constants.errno).find(([, value]) => value === errno)?.[0];
  return OF_SYSTEM[name ?? ""] ?? OF_SQLITE[errcode & 0xff];
};
