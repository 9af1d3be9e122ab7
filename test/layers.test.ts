import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, normalize, sep } from "node:path";
import { expect, test } from "vitest";

/**
 * The floors of src, lowest first. A room is the longest of these names that a file's path begins with.
 * A file may import its own room and any room on a lower floor.
 */
const FLOORS = [
  ["domain/units", "domain/keys"],
  ["domain/statistics"],
  ["domain/problem"],
  ["domain/trade"],
  ["data/profile"],
  ["data/sequence"],
  ["data/bench"],
  ["data/shop"],
  ["plan"],
  ["data/rack"],
  ["wire"],
  ["wire/rdm"],
  ["diagnosis/places"],
  ["diagnosis/model"],
  ["run/events"],
  ["run/release"],
  ["run/memory"],
  ["run/machine"],
  ["run/session"],
  ["run/batch"],
  ["run/phone"],
  ["reports"],
  ["run/verification"],
  ["run/ports"],
  // Above this line the world begins. `ports` itself stands below it but describes doors that wait, so it may say Promise.
  ["run/sharing"],
  ["run/shell"],
  ["io/systems"],
  [
    "io/clock",
    "io/serial",
    "io/network",
    "io/store",
    "io/share",
    "io/files",
    "io/voice",
    "io/log",
    "io/phone",
    "sim",
    "ui",
    "phone-page",
  ],
  ["app"],
  ["limber"],
  ["start"],
];
const WORLD = FLOORS.findIndex((rooms) => rooms.includes("run/ports"));
/** Packages that pure rooms may use. Everything else belongs above the line. */
const PURE_PACKAGES: Readonly<Record<string, readonly string[]>> = {
  "": ["zod", "yaml"],
  // Nearest names for a misspelt one: edit distance is no business of ours.
  "domain/problem": ["fastest-levenshtein", "csv-parse"],
  "data/profile/gdtf": ["fflate", "fast-xml-parser"],
  plan: ["@noble/hashes"],
  "run/events": ["@noble/hashes"],
  // Trees that become HTML, tables that become CSV: escaping is no business of ours.
  reports: ["hastscript", "hast-util-to-html", "csv-stringify", "string-width", "uqr", "marked"],
};
/** Rooms that must not know each other although the floors would allow it. */
const BANS: readonly (readonly [from: string, to: string])[] = [
  ["sim", "diagnosis/model"],
  ["sim", "diagnosis/places"],
  ["sim", "data/profile"],
];
const REACHES_OUT =
  /\b(Date\.now|new Date\(|performance\.|Math\.random|crypto\.|setTimeout|setInterval|queueMicrotask|process\.|console\.|Promise|async|await)\b/;

const files = readdirSync("src", { recursive: true, encoding: "utf8" }).filter((name) => /\.tsx?$/.test(name));
const ROOMS = FLOORS.flat().toSorted((a, b) => b.length - a.length);
const roomOf = (file: string) => {
  const path = file
    .split(sep)
    .join("/")
    .replace(/\.tsx?$/, "");
  return ROOMS.find((room) => path === room || path.startsWith(`${room}/`)) ?? path;
};
const floorOf = (file: string) => FLOORS.findIndex((rooms) => rooms.includes(roomOf(file)));
const codeOf = (file: string) =>
  readFileSync(join("src", file), "utf8")
    .replace(/\/\*[\s\S]*?\*\//g, "")
    .replace(/(^|[^:])\/\/.*$/gm, "$1");
/** Static imports and re-exports at the start of a statement, and dynamic imports anywhere. */
const IMPORT = /(?:^|;)\s*(?:import|export)\s(?:[^;"']*?\sfrom\s)?["']([^"']+)["']|\bimport\(\s*["']([^"']+)["']/gm;
const importsOf = (file: string) => [...codeOf(file).matchAll(IMPORT)].map((match) => (match[1] ?? match[2])!);
const neighboursOf = (file: string) =>
  importsOf(file)
    .filter((name) => name.startsWith("."))
    .map((name) => normalize(join(dirname(file), name)));
const packagesOf = (file: string) => importsOf(file).filter((name) => !name.startsWith("."));
const allowedIn = (file: string) =>
  Object.entries(PURE_PACKAGES).flatMap(([place, names]) => (file.split(sep).join("/").startsWith(place) ? names : []));

/** What is wrong with a file, each with its name in front: a whole house is checked in one test and says all of it. */
const sins = (ofFile: (file: string) => readonly string[]) =>
  files.flatMap((file) => ofFile(file).map((sin) => `${file}: ${sin}`));

test("every file lies in a room", () => {
  expect(files.filter((file) => floorOf(file) < 0)).toEqual([]);
});

test("a file imports only its own room and lower floors", () => {
  expect(
    sins((file) => neighboursOf(file).filter((to) => roomOf(to) !== roomOf(file) && floorOf(to) >= floorOf(file))),
  ).toEqual([]);
});

test("rooms that must not know each other do not", () => {
  expect(
    sins((file) => neighboursOf(file).filter((to) => BANS.some(([a, b]) => roomOf(file) === a && roomOf(to) === b))),
  ).toEqual([]);
});

test("a room below the ports takes only the packages named for it", () => {
  const allowed = (file: string, name: string) =>
    allowedIn(file).some((ok) => name === ok || name.startsWith(`${ok}/`));
  const pure = (file: string) => floorOf(file) < WORLD;
  expect(sins((file) => (pure(file) ? packagesOf(file).filter((name) => !allowed(file, name)) : []))).toEqual([]);
});

test("a room below the ports does not touch the world: no clock, no chance, no waiting", () => {
  expect(
    sins((file) => {
      const reached = floorOf(file) < WORLD ? REACHES_OUT.exec(codeOf(file))?.[0] : undefined;
      return reached === undefined ? [] : [reached];
    }),
  ).toEqual([]);
});

/** The simulated line and what answers on it are doors like the real ones; all else about fixture and watchers is computed. */
const SIMULATED_DOORS = ["sim/line.ts", "sim/rdm/cable.ts"];

test("the simulation touches no clock and waits for nothing: the same seed is the same run", () => {
  const simulated = files.filter(
    (file) => roomOf(file) === "sim" && !SIMULATED_DOORS.includes(file.split(sep).join("/")),
  );
  expect(simulated.length).toBeGreaterThan(20);
  expect(simulated.filter((file) => REACHES_OUT.test(codeOf(file)))).toEqual([]);
});

test("no file reaches itself through its imports", () => {
  const reaches = (from: string, goal: string, seen = new Set<string>()): boolean =>
    neighboursOf(from).some((to) => to === goal || (!seen.has(to) && reaches(to, goal, seen.add(to))));
  expect(files.filter((file) => reaches(file, file))).toEqual([]);
});

test("the tests' own decoder shares no code with the encoder it checks", () => {
  const decoder = readFileSync(join("test", "kit", "line-decoder.ts"), "utf8");
  expect([...decoder.matchAll(IMPORT)].map((match) => match[1] ?? match[2])).toEqual([]);
});
