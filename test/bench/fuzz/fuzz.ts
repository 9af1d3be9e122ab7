import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { type Row, row } from "../line/row.ts";
import { HOSTILE } from "./hostile.ts";

interface Told {
  readonly doors: readonly {
    readonly name: string;
    readonly files: number;
    readonly seconds: number;
    readonly slowest_ms: number;
    readonly flaw?: string;
  }[];
  readonly most_mb: number;
}

const FILES = 5000;
const HEAP_MB = 256;

/** Thousands of changed files through every door, and the largest hostile ones, in child processes that have little memory. */
export const fuzzBench = (): readonly Row[] => {
  const told = inChild<Told>("child.js", String(FILES), "20261125");
  for (const { name, flaw } of told.doors) if (flaw !== undefined) throw new Error(`${name}: ${flaw}`);
  return [
    ...told.doors.flatMap(({ name, files, seconds, slowest_ms }) => [
      row(`${name}: ${files} changed files`, "s", seconds),
      row(`${name}: the slowest of them`, "ms", slowest_ms),
    ]),
    row(`most memory of all, heap bounded at ${HEAP_MB} MB`, "MB", told.most_mb),
    ...Object.keys(HOSTILE).flatMap((name) => {
      const { ms, mb } = inChild<{ ms: number; mb: number }>("hostile.js", name);
      return [row(`${name}: refused in`, "ms", ms), row(`${name}: most memory`, "MB", mb)];
    }),
  ];
};

const inChild = <T>(file: string, ...args: readonly string[]): T => {
  const path = fileURLToPath(new URL(file, import.meta.url));
  return JSON.parse(
    execFileSync(process.execPath, [`--max-old-space-size=${HEAP_MB}`, path, ...args], { encoding: "utf8" }),
  ) as T;
};
