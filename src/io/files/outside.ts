import {
  chmodSync,
  closeSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { dirname } from "node:path";

/** Files of the user's own, named by their path: read whole, or written anew. */

export type ReadFile =
  | { readonly kind: "bytes"; readonly bytes: Uint8Array }
  | { readonly kind: "unread"; readonly why: string };

/** Reads a file that a person named, or says why it cannot be read. A file of more than `mostBytes` is not read. */
export const readBytes = (file: string, mostBytes: number): ReadFile => {
  try {
    const { size } = statSync(file);
    return size > mostBytes
      ? { kind: "unread", why: `${size} bytes; at most ${mostBytes} are read` }
      : { kind: "bytes", bytes: readFileSync(file) };
  } catch (error) {
    return { kind: "unread", why: whyOf(error) };
  }
};

/** Writes a text into a new file, never over one that is there. Undefined when written, else why not. */
export const writeNew = (file: string, text: string): string | undefined => {
  try {
    const handle = openSync(file, "wx");
    writeSync(handle, text);
    closeSync(handle);
    return undefined;
  } catch (error) {
    return whyOf(error);
  }
};

/**
 * Writes a text over a file. The old text is there until the new one is whole: power may fail in between.
 * Undefined when written, else why not.
 */
export const replaceFile = (file: string, text: string): string | undefined => {
  const beside = `${file}.new`;
  const trouble = writeNew(beside, text);
  if (trouble !== undefined) return `${beside}: ${trouble}`;
  try {
    chmodSync(beside, statSync(file).mode);
    renameSync(beside, file);
    return undefined;
  } catch (error) {
    rmSync(beside, { force: true });
    return whyOf(error);
  }
};

/** The text of a file of Limber's own; undefined where there is none or it cannot be read. */
export const readPrivate = (file: string): string | undefined => {
  try {
    return readFileSync(file, "utf8");
  } catch {
    return undefined;
  }
};

/**
 * Writes a file of Limber's own for this user only; the old text is there until the new one is whole.
 * Undefined when written, else why not.
 */
export const writePrivate = (file: string, text: string): string | undefined => {
  const beside = `${file}.new`;
  try {
    mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
    rmSync(beside, { force: true });
    writeFileSync(beside, text, { mode: 0o600, flag: "wx" });
    renameSync(beside, file);
    return undefined;
  } catch (error) {
    return whyOf(error);
  }
};

const whyOf = (error: unknown): string => {
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  return WORDS[code] ?? (error instanceof Error ? error.message : String(error));
};
const WORDS: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file or folder",
  ENOTDIR: "a part of this path is a file and not a folder",
  EISDIR: "this is a folder",
  EACCES: "no permission",
  EPERM: "no permission",
  EROFS: "this place can only be read",
  EEXIST: "there is such a file already",
  ENOSPC: "no space left",
  ENAMETOOLONG: "the name is too long",
};
