import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
} from "node:fs";
import { join, resolve } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";

/**
 * The program compiled from today's sources, for tests that start processes or threads: the folder with `main.js` in it.
 * Built once for any number of test files; the folder above is laid out as the project (package.json, profiles, sequences).
 * Types are not checked here.
 */
export const built = (): string => {
  dist ??= builtNow();
  return dist;
};

/** One test file sees one build, also while somebody edits the sources. */
let dist: string | undefined;

const builtNow = (): string => {
  mkdirSync(CACHE, { recursive: true });
  const place = join(CACHE, sourcesHash());
  if (!existsSync(place)) alone(() => existsSync(place) || build(place));
  return join(place, "dist");
};

/** As the package ships them beside the program. */
const DATA_FOLDERS = readdirSync(".").filter((name) =>
  ["profiles", "sequences", "benches", "racks", "shops"].includes(name),
);
const CACHE = resolve("node_modules/.cache/limber-built");
/** Sources change while other test runs still use older builds. */
const KEPT = 60;

const build = (place: string): void => {
  for (const old of buildsByAge().slice(KEPT)) rmSync(old, { recursive: true });
  const started = `${place}.started`;
  rmSync(started, { recursive: true, force: true });
  const tsc = ["node_modules/typescript/bin/tsc", "-p", "tsconfig.build.json", "--noCheck"];
  execFileSync(process.execPath, [...tsc, "--outDir", join(started, "dist")]);
  cpSync("package.json", join(started, "package.json"));
  for (const folder of DATA_FOLDERS) symlinkSync(resolve(folder), join(started, folder));
  renameSync(started, place);
};

const buildsByAge = (): readonly string[] =>
  readdirSync(CACHE)
    .filter((name) => /^[0-9a-f]{16}$/.test(name))
    .map((name) => join(CACHE, name))
    .sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs);

/** Other test files wait here while one builds. The lock is the operating system's: it goes with the process that held it. */
const alone = (work: () => void): void => {
  const lock = new DatabaseSync(join(CACHE, "lock.db"), { timeout: 60_000 });
  try {
    lock.exec("BEGIN EXCLUSIVE");
    work();
  } finally {
    lock.close();
  }
};

const sourcesHash = (): string => {
  const sources = readdirSync("src", { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .sort()
    .map((name) => join("src", name));
  // Several checkouts may share one node_modules, and a build points at the data files of its own.
  const hash = createHash("sha256").update(resolve());
  for (const file of ["package.json", "tsconfig.json", "tsconfig.build.json", ...sources])
    hash.update(file).update(readFileSync(file));
  return hash.digest("hex").slice(0, 16);
};
