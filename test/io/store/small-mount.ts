import { execFileSync } from "node:child_process";
import { mkdtempSync, rmdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** Lays a disk of so many kilobytes over a folder, until it is taken away. Needs Linux and root. */
export const mount = (folder: string, kilobytes: number): void =>
  run("mount", "-t", "tmpfs", "-o", `size=${kilobytes}k`, "tmpfs", folder);
export const unmount = (folder: string): void => run("umount", "--lazy", folder);
export const remount = (folder: string, how: string): void => run("mount", "-o", `remount,${how}`, folder);

/** Why there is no small disk on this computer, or undefined. */
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

const run = (program: string, ...args: readonly string[]): void => {
  execFileSync(program, args, { stdio: "pipe" });
};
