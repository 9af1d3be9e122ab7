import { execFileSync } from "node:child_process";
import { mkdtempSync, rmdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import { ownFolder } from "./folder.ts";

/** A disk of so many kilobytes, gone when the test is over. */
export const smallDisk = (kilobytes: number): { readonly folder: string; readonly remount: (how: string) => void } => {
  const folder = ownFolder();
  mount(folder, kilobytes);
  onTestFinished(() => unmount(folder));
  return { folder, remount: (how) => run("mount", "-o", `remount,${how}`, folder) };
};

/** Why there is no small disk on this computer, or undefined. Mounting one needs Linux and root. */
export const noSmallDisk = (): string | undefined => {
  if (process.getuid?.() !== 0) return "mounting a small disk needs root";
  const folder = mkdtempSync(join(tmpdir(), "limber-mount-"));
  try {
    mount(folder, 64);
    unmount(folder);
    return undefined;
  } catch {
    return "this computer does not let us mount a small disk";
  } finally {
    rmdirSync(folder);
  }
};

const mount = (folder: string, kilobytes: number) =>
  run("mount", "-t", "tmpfs", "-o", `size=${kilobytes}k`, "tmpfs", folder);
const unmount = (folder: string) => run("umount", "--lazy", folder);
const run = (program: string, ...args: readonly string[]): void => {
  execFileSync(program, args, { stdio: "pipe" });
};
