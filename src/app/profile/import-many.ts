import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { MOST_PACKED } from "../../data/profile/gdtf/archive.ts";
import { type Description, modesByName } from "../../data/profile/gdtf/description.ts";
import type { Element } from "../../data/profile/gdtf/element.ts";
import { type Imported, profileFrom, profileName } from "../../data/profile/gdtf/profile-from.ts";
import { readProfile } from "../../data/profile/parse.ts";
import { groupsBy } from "../../domain/keys.ts";
import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { readBytes, writeNew } from "../../io/files/outside.ts";
import { print } from "../common/output.ts";
import { gdtfIn } from "./profile-import.ts";

/** A file of a maker's, wherever it came from. */
export interface GdtfFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What became of one mode of one file. */
export interface Entered {
  readonly file: string;
  readonly mode: string;
  readonly profile: string;
  readonly became: ImportOutcome;
}

type ImportOutcome =
  | { readonly kind: "new"; readonly imported: Imported }
  | { readonly kind: "unchanged" }
  | { readonly kind: "replaced" | "waits"; readonly imported: Imported }
  | { readonly kind: "refused"; readonly problems: readonly Problem[] };

export interface Library {
  readonly folder: string;
  /** Profiles of older files make room; what they were is kept beside, and what was measured goes over. */
  readonly replace: boolean;
  /** The date as it is written into the profiles: "2026-11-28". */
  readonly today: string;
}

/** The GDTF files of a folder and of the folders in it, in the order of their names. */
export const gdtfFilesIn = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.toLowerCase().endsWith(".gdtf") && statSync(join(folder, name)).isFile())
    .toSorted()
    .map((name) => join(folder, name));

/** The bytes of a GDTF file, or why it cannot be read. */
export const readFileOf = (path: string): Result<GdtfFile> => {
  const read = readBytes(path, MOST_PACKED);
  return read.kind === "unread" ? bad(problem(path, read.why)) : good({ name: path, bytes: read.bytes });
};

/** Enters the modes of a file into the shop's library; those that `wanted` names, or all. */
export const enterFile = (
  library: Library,
  { name, bytes }: GdtfFile,
  wanted: (mode: string) => boolean = () => true,
): readonly Entered[] => {
  const read = gdtfIn(name, bytes);
  if (!read.ok) return [{ file: name, mode: "", profile: "", became: { kind: "refused", problems: read.problems } }];
  const fingerprint = createHash("sha256").update(bytes).digest("hex");
  mkdirSync(library.folder, { recursive: true, mode: 0o700 });
  return [...modesByName(read.value.description.fixture)]
    .filter(([mode]) => wanted(mode))
    .map(([mode, element]) => {
      const profile = profileName(read.value.description.fixture, mode);
      const made = { file: name, mode, element, profile, fingerprint, description: read.value.description };
      return { file: name, mode, profile, became: enterMode(library, made) };
    });
};

interface ModeOf {
  readonly file: string;
  readonly element: Element;
  readonly profile: string;
  readonly fingerprint: string;
  readonly description: Description;
}

const enterMode = ({ folder, replace, today }: Library, mode: ModeOf): ImportOutcome => {
  const path = join(folder, `${mode.profile}.yaml`);
  const there = existsSync(path) ? readFileSync(path, "utf8") : undefined;
  if (there?.includes(mode.fingerprint)) return { kind: "unchanged" };
  const before = there === undefined ? undefined : readProfile(path, there);
  const made = profileFrom({
    file: basename(mode.file),
    description: mode.description,
    mode: mode.element,
    name: mode.profile,
    origin: `Imported ${today}; the file's SHA-256 is ${mode.fingerprint}.`,
    ...(before?.ok ? { older: before.value.written } : {}),
  });
  if (!made.ok) return { kind: "refused", problems: made.problems };
  if (there !== undefined && !replace) return { kind: "waits", imported: made.value };
  if (there !== undefined) renameSync(path, `${path}.until-${today}`);
  const trouble = writeNew(path, made.value.text);
  if (trouble !== undefined) return { kind: "refused", problems: [problem(path, trouble)] };
  return { kind: there === undefined ? "new" : "replaced", imported: made.value };
};

/** Prints one report of all that was entered: a line for each mode, what newer files say otherwise, and the sum. */
export const tellEntered = (entered: readonly Entered[], folder: string): void => {
  for (const [file, modes] of groupsBy(entered, (one) => one.file)) {
    print(safeText(basename(file)));
    for (const one of modes) for (const line of linesOf(one)) print(`  ${safeText(line)}`);
  }
  const count = (...kinds: readonly ImportOutcome["kind"][]) =>
    entered.filter(({ became }) => kinds.includes(became.kind)).length;
  const parts = [
    `${count("new", "replaced")} profiles written to ${folder}`,
    `${count("unchanged")} unchanged`,
    `${count("waits")} of other files than before not written (--replace writes them)`,
    `${count("refused")} refused`,
  ];
  print(`\n${parts.filter((words, n) => n === 0 || !words.startsWith("0 ")).join(", ")}.`);
};

const linesOf = ({ mode, profile, became }: Entered): readonly string[] => {
  switch (became.kind) {
    case "unchanged":
      return [`${profile}: unchanged`];
    case "refused":
      return [`${mode === "" ? "" : `${mode}: `}refused: ${became.problems[0]?.message ?? ""}`];
    case "new":
      return [`${profile}: ${shareWords(became.imported)}`];
    case "waits":
    case "replaced":
      return [
        `${profile}: ${shareWords(became.imported)}, from another file than before${became.kind === "waits" ? "; not written" : ""}`,
        ...(became.imported.changes.length === 0
          ? ["  says the same"]
          : became.imported.changes.map((one) => `  ${one}`)),
      ];
    default:
      return became satisfies never;
  }
};

const shareWords = ({ coverage: { slots, driven }, toMeasure }: Imported): string =>
  `${driven} of ${slots} slots driven, ${toMeasure} values to measure`;

/**
 * Draws a bar on a terminal that says how far a long import is; nothing where nobody watches. `done` is how many files are
 * done, and `of` is how many there are, at least 1.
 */
export const progress = (done: number, of: number): void => {
  if (!process.stderr.isTTY) return;
  const full = Math.round((BAR * done) / of);
  process.stderr.write(
    done === of ? "\r\x1b[K" : `\r[${"#".repeat(full)}${".".repeat(BAR - full)}] ${done} of ${of} files`,
  );
};
const BAR = 30;
