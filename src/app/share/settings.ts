import { existsSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { isAbsolute } from "node:path";
import { z } from "zod";
import { ShareError } from "../../io/share/connection.ts";
import type { ShareDoor } from "../../io/share/server.ts";
import { hasFileModes, settingsFile, systemOf } from "../../io/systems.ts";

/** That this journal takes part in a share, and how. No address and no password stands here, only where the address is written. */
const shareSettings = z.strictObject({
  version: z.literal(1),
  address: z.discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("file"), file: z.string() }),
    /** PGHOST, PGDATABASE, PGUSER and PGPASSWORD. */
    z.strictObject({ kind: z.literal("environment") }),
  ]),
  shop: z.string(),
  /** The name of this bench, for people. */
  name: z.string(),
});
export type ShareSettings = z.infer<typeof shareSettings>;

/**
 * The share that a journal takes part in; undefined where it takes part in none. Throws
 * ShareError for a file that cannot be read.
 */
export const readShareSettings = (journal: string): ShareSettings | undefined => {
  const file = settingsFile(journal);
  if (!existsSync(file)) return undefined;
  const parsed = shareSettings.safeParse(jsonIn(file));
  if (!parsed.success) throw new ShareError(`${file} cannot be read. "limber share join" writes it again.`);
  return parsed.data;
};

const jsonIn = (file: string): unknown => {
  try {
    return JSON.parse(readFileSync(file, "utf8"));
  } catch {
    return undefined;
  }
};

/**
 * Keeps that a journal takes part in a share, in a file for this user only. Throws the
 * system's error where it cannot be written.
 */
export const writeSettings = (journal: string, settings: ShareSettings): void =>
  writeFileSync(settingsFile(journal), `${JSON.stringify(settings, undefined, 2)}\n`, { mode: 0o600 });

/** Forgets that a journal takes part in a share. */
export const removeSettings = (journal: string): void => rmSync(settingsFile(journal), { force: true });

/**
 * How to reach the server of a share. Throws ShareError for an address file that is missing,
 * or that others than its owner may read.
 */
export const doorOf = ({ address, shop, name }: ShareSettings): ShareDoor => ({
  url: address.kind === "file" ? urlIn(address.file) : undefined,
  shop,
  name,
});

const OTHERS = 0o077;

const urlIn = (file: string): string => {
  if (!isAbsolute(file)) throw new Error(`Bug: ${file} is no whole path`);
  if (!existsSync(file)) throw new ShareError(`${file}, which holds the address of the share, is not there.`);
  if ((statSync(file).mode & OTHERS) !== 0 && hasFileModes(systemOf(process.platform)))
    throw new ShareError(`${file} may hold a password, and others may read it: chmod 600 ${file}`);
  return readFileSync(file, "utf8").trim();
};
