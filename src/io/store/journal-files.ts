import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  mkdirSync,
  openSync,
  readFileSync,
  rmSync,
  writeSync,
} from "node:fs";
import { dirname } from "node:path";
import { type ChainHead, readHead } from "../../run/events/chain.ts";
import { proofOf } from "./row.ts";
import { journalError } from "./trouble.ts";

/**
 * Beside the journal stands which event was its last, so that an older copy of the journal, or one whose end was cut
 * off, is noticed when it is opened. It is written after the journal and never waited for: it may lag behind and never runs ahead.
 */
interface HeadFile {
  /** Undefined where nothing is known. */
  read(): ChainHead | undefined;
  write(head: ChainHead): void;
  close(): void;
}

/** How many characters are written: as many as the longest head has, so that a shorter one leaves nothing of the one before. */
const WIDTH = 120;

/** The note beside a journal of which event was its last. Where it cannot be read or written, nothing is known. */
export const headFile = (journal: string): HeadFile => {
  const file = headFileOf(journal);
  let opened: number | undefined;
  return {
    read: () =>
      attempted(() => {
        const [origin = "", printed = "", proof] = readFileSync(file, "utf8").split(" ");
        const head = readHead(printed);
        // A note that is itself damaged says nothing.
        return head && proof === proofOf(origin, printed) ? { origin, ...head } : undefined;
      }),
    write: ({ origin, number, hash }) =>
      attempted(() => {
        opened ??= openSync(file, "w", 0o600);
        const printed = `${number}-${hash}`;
        writeSync(opened, `${origin} ${printed} ${proofOf(origin, printed)} `.padEnd(WIDTH), 0);
      }),
    close: () => {
      if (opened !== undefined) closeSync(opened);
      opened = undefined;
    },
  };
};

/** The name of the note beside a journal. */
export const headFileOf = (journal: string): string => `${journal}-head`;

/** Removes the note, after what it says has been marked in the journal itself. */
export const forgetHeadFile = (journal: string): void => rmSync(headFileOf(journal), { force: true });

/** What the work gives; undefined where it throws: a full disk or a folder that may not be written costs the note, not the work. */
export const attempted = <T>(work: () => T): T | undefined => {
  try {
    return work();
  } catch {
    return undefined;
  }
};

/**
 * Creates the file, and the folders above it, for this user only. A file that is there is only asked whether it may be
 * used. Throws JournalError or the system's error.
 */
export const createPrivate = (file: string, existing: "welcome" | "refused"): void => {
  if (!existsSync(dirname(file))) mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
  // Not opened if it is there: closing it again would drop the locks that SQLite holds elsewhere in this process.
  if (existing === "welcome" && existsSync(file)) mustBeUsable(file);
  else closeSync(openSync(file, existing === "welcome" ? "a" : "wx", 0o600));
};

const mustBeUsable = (file: string): void => {
  accessSync(file, constants.R_OK);
  if (!isWritable(file)) throw journalError("read-only", file);
};

const isWritable = (file: string): boolean => {
  try {
    accessSync(file, constants.W_OK);
    return true;
  } catch {
    return false;
  }
};
