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
  writeFileSync,
} from "node:fs";
import { join, resolve } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";

/** The program as it is shipped, bundled from today's sources, for tests that start it. */
export const program = (): string => join(built(), "bundle", "main.js");

/**
 * The folder with that bundle, and beside it every source compiled by itself, for tests that start a thread or call inner
 * parts from a process of their own. Built once for any number of test files; the folder above is laid out as the project
 * (package.json, profiles, sequences). Types are not checked here.
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
  ["profiles", "sequences", "benches", "racks", "shops", "docs"].includes(name),
);
const CACHE = resolve("node_modules/.cache/limber-built");
/** Sources change while other test runs still use older builds. */
const KEPT = 60;

const build = (place: string): void => {
  for (const old of buildsByAge().slice(KEPT)) rmSync(old, { recursive: true });
  const started = `${place}.started`;
  rmSync(started, { recursive: true, force: true });
  const tsc = ["node_modules/typescript/bin/tsc", "-p", "tsconfig.build.json", "--noCheck"];
  const dist = join(started, "dist");
  execFileSync(process.execPath, [...tsc, "--outDir", dist]);
  const rolldown = ["node_modules/rolldown/bin/cli.mjs", "-c", "rolldown.config.js", "--log-level", "silent"];
  const env = { ...process.env, LIMBER_DIST: join(dist, "bundle") };
  execFileSync(process.execPath, rolldown, { env });
  // A journal of either kind is served by the bundled thread: loading the sources one by one takes twice the processor.
  writeFileSync(join(dist, "io", "store", "worker.js"), 'import "../../bundle/worker.js";\n');
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
    .filter((name) => /\.(tsx?|html|css)$/.test(name))
    .sort()
    .map((name) => join("src", name));
  // Several checkouts may share one node_modules, and a build points at the data files of its own.
  const hash = createHash("sha256").update(resolve());
  for (const file of [
    "test/kit/built.ts",
    "package.json",
    "tsconfig.json",
    "tsconfig.build.json",
    "rolldown.config.js",
    ...sources,
  ])
    hash.update(file).update(readFileSync(file));
  return hash.digest("hex").slice(0, 16);
};
