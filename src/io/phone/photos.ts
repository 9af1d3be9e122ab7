import { createHash } from "node:crypto";
import { closeSync, fsyncSync, mkdirSync, openSync, readFileSync, renameSync, rmSync, writeSync } from "node:fs";
import { dirname, join } from "node:path";
import { PHOTO_FILE } from "../../run/events/by-hand.ts";

/** Where the pictures of a journal lie: in its folder. Limber never deletes any. */
export const photoFolder = (journal: string): string => join(dirname(journal), "photos");

/**
 * Keeps a picture under the hash of its bytes, for this user only, and gives its name once it is on disk; the same picture
 * twice is one file. Throws the system's error where it cannot be written.
 */
export const keepPhoto = (folder: string, bytes: Uint8Array, type: "jpg" | "png"): string => {
  const name = `${createHash("sha256").update(bytes).digest("hex")}.${type}`;
  const file = join(folder, name);
  if (keptPhoto(folder, name)) return name;
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const beside = `${file}.new`;
  rmSync(beside, { force: true });
  const handle = openSync(beside, "wx", 0o600);
  writeSync(handle, bytes);
  fsyncSync(handle);
  closeSync(handle);
  renameSync(beside, file);
  return name;
};

/**
 * Keeps a picture that came from elsewhere under its name; refuses it if its bytes are not those that it is named after.
 */
export const takePhoto = (folder: string, name: string, bytes: Uint8Array): "taken" | "refused" => {
  if (!isNamedAfter(name, bytes)) return "refused";
  keepPhoto(folder, bytes, name.endsWith(".png") ? "png" : "jpg");
  return "taken";
};

/**
 * Copies these pictures into another folder, and says how many are there then and how
 * many are missing here or were changed.
 */
export const copyPhotos = (
  from: string,
  to: string,
  names: readonly string[],
): { readonly copied: number; readonly missing: number } => {
  let copied = 0;
  for (const name of new Set(names)) {
    const bytes = keptPhoto(from, name);
    if (bytes && takePhoto(to, name, bytes) === "taken") copied += 1;
  }
  return { copied, missing: new Set(names).size - copied };
};

const isNamedAfter = (name: string, bytes: Uint8Array): boolean =>
  PHOTO_FILE.test(name) && name.startsWith(createHash("sha256").update(bytes).digest("hex"));

/** A kept picture whose bytes are still those that it is named after; undefined where it is not there or was changed. */
export const keptPhoto = (folder: string, name: string): Uint8Array | undefined => {
  try {
    const bytes = readFileSync(join(folder, name));
    return isNamedAfter(name, bytes) ? bytes : undefined;
  } catch {
    return undefined;
  }
};
