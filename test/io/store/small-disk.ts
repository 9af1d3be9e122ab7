import { onTestFinished } from "vitest";
import { ownFolder } from "./folder.ts";
import { mount, remount, unmount } from "./small-mount.ts";

/** A disk of so many kilobytes, gone when the test is over. */
export const smallDisk = (kilobytes: number): { readonly folder: string; readonly remount: (how: string) => void } => {
  const folder = ownFolder();
  mount(folder, kilobytes);
  onTestFinished(() => unmount(folder));
  return { folder, remount: (how) => remount(folder, how) };
};
