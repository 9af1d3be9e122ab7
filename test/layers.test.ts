import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, normalize, sep } from "node:path";
import { expect, test } from "vitest";

/** The floors of src, lowest first. A file may import its own room and any room on a lower floor. */
const FLOORS = [
  ["units"],
  ["statistics"],
  ["problem"],
  ["trade"],
  ["profile"],
  ["sequence"],
  ["bench"],
  ["timeline"],
  ["rack"],
  ["wire"],
  ["presses"],
  ["faults"],
  ["record"],
  ["release"],
  ["memory"],
  ["session"],
  ["batch"],
  ["report"],
  ["proof"],
  ["ports"],
  // Above this line the world begins. `ports` itself stands below it but describes doors that wait, so it may say Promise.
  ["run"],
  ["clock", "serial", "network", "store", "shelf", "sim", "screen", "voice", "log"],
  ["commands"],
  ["arguments"],
  ["main"],
];
const WORLD = FLOORS.findIndex((rooms) => rooms.includes("ports"));
/** Packages that pure rooms may use. Everything else belongs above the line. */
const PURE_PACKAGES: Readonly<Record<string, readonly string[]>> = {
  "": ["zod", "yaml"],
  // Nearest names for a misspelt one: edit distance is no business of ours.
  problem: ["fastest-levenshtein", "csv-parse"],
  "profile/gdtf": ["fflate", "fast-xml-parser"],
  timeline: ["@noble/hashes"],
  // Trees that become HTML, tables that become CSV: escaping is no business of ours.
  report: ["hastscript", "hast-util-to-html", "csv-stringify"],
};
/** Rooms that must not know each other although the floors would allow it. */
const BANS: readonly (readonly [from: string, to: string])[] = [
  ["sim", "faults"],
  ["sim", "presses"],
  ["sim", "profile"],
];
const REACHES_OUT =
  /\b(Date\.now|new Date\(|performance\.|Math\.random|crypto\.|setTimeout|setInterval|queueMicrotask|process\.|console\.|Promise|async|await)\b/;

const files = readdirSync("src", { recursive: true, encoding: "utf8" }).filter((name) => /\.tsx?$/.test(name));
const roomOf = (file: string) => file.split(sep)[0]!.replace(/\.tsx?$/, "");
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

test.each(files)("%s imports only its own room and lower floors", (file) => {
  expect(floorOf(file), `${roomOf(file)} is not a room`).toBeGreaterThanOrEqual(0);
  const strangers = neighboursOf(file).filter((to) => roomOf(to) !== roomOf(file) && floorOf(to) >= floorOf(file));
  expect(strangers).toEqual([]);
  expect(neighboursOf(file).filter((to) => BANS.some(([a, b]) => roomOf(file) === a && roomOf(to) === b))).toEqual([]);
});

test.each(files.filter((file) => floorOf(file) < WORLD))("%s does not touch the world", (file) => {
  expect(
    packagesOf(file).filter((name) => !allowedIn(file).some((ok) => name === ok || name.startsWith(`${ok}/`))),
  ).toEqual([]);
  expect(REACHES_OUT.exec(codeOf(file))?.[0]).toBeUndefined();
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
