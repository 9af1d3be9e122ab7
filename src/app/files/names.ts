import { parseProfile } from "../../data/profile/parse.ts";
import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { FAULTS } from "../../diagnosis/model/knowledge/faults.ts";
import { bad, good, nearest, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { FUNCTION_IDS, FUNCTIONS } from "../../domain/trade/functions.ts";
import { GLOSSARY } from "../../domain/trade/glossary.ts";
import { HOLD_POINT_IDS, holdPointWords } from "../../domain/trade/hold-points.ts";
import { INSPECTION_IDS, INSPECTIONS, inspectionsOf } from "../../domain/trade/inspections.ts";
import { READING_IDS, READINGS } from "../../domain/trade/readings.ts";
import { ROUTINES, WRITTEN_ROUTINE_IDS } from "../../domain/trade/routines.ts";
import { SYMPTOM_IDS, symptomWords } from "../../domain/trade/symptoms.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { hanging } from "../../reports/wrap.ts";
import { load } from "../common/data.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";

/** What has a name that a command, a file or an answer may use. */
export type KindOfNames =
  | "faults"
  | "inspections"
  | "measurements"
  | "hold-points"
  | "symptoms"
  | "functions"
  | "routines"
  | "words"
  | "profiles"
  | "sequences"
  | "benches"
  | "racks"
  | "shops";

export interface NamedFile {
  readonly name: string;
  readonly words: string;
}

export interface NamesOptions {
  /** A profile by name or file: only what concerns this kind of fixture. */
  readonly profile: string | undefined;
  /** Only what has this word in its name or its description. */
  readonly find: string | undefined;
  readonly json: boolean;
}

/** Lists what can be named, each with what it means. */
export const showNames = (kind: KindOfNames, { profile: name, find, json }: NamesOptions): ExitCode => {
  const profile = name === undefined ? good(undefined) : profileNamed(name);
  if (!profile.ok) return refuse(profile.problems);
  const all = namesOf(kind, profile.value);
  const found = find === undefined ? all : all.filter((one) => matches(one, find));
  if (found.length === 0 && find !== undefined) return refuse([notFound(kind, find, all)]);
  print(json ? JSON.stringify(found, undefined, 2) : listed(found));
  return EXIT.done;
};

/** Everything of one kind that has a name; with a profile only what such a fixture has. */
export const namesOf = (kind: KindOfNames, profile: Profile | undefined): readonly NamedFile[] => {
  switch (kind) {
    case "faults":
      return FAULTS.filter(({ mechanism }) => !profile || mechanismsOf(profile).has(mechanism)).map(
        ({ id, title }) => ({
          name: id,
          words: title,
        }),
      );
    case "inspections":
      return (profile ? inspectionsOf(mechanismsOf(profile)) : INSPECTION_IDS).map((id) => ({
        name: id,
        words: INSPECTIONS[id].look,
      }));
    case "measurements":
      return READING_IDS.map((id) => ({ name: id, words: READINGS[id].words }));
    case "hold-points":
      return HOLD_POINT_IDS.map((id) => ({ name: id, words: holdPointWords(id) }));
    case "symptoms":
      return SYMPTOM_IDS.map((id) => ({ name: id, words: symptomWords(id) }));
    case "functions":
      return FUNCTION_IDS.filter((id) => !profile || profile.functions.has(id)).map((id) => ({
        name: id,
        words: FUNCTIONS[id].words,
      }));
    case "routines":
      return WRITTEN_ROUTINE_IDS.map((id) => ({ name: id, words: ROUTINES[id].words }));
    case "words":
      return Object.entries(GLOSSARY).map(([name, { means }]) => ({ name, words: means }));
    default:
      return filesOf(kind);
  }
};

const mechanismsOf = (profile: Profile) => new Set(fittedOf(profile).map(({ mechanism }) => mechanism));

/** The files that come with Limber, each with its title. */
const filesOf = (kind: "profiles" | "sequences" | "benches" | "racks" | "shops"): readonly NamedFile[] =>
  fileLibrary()
    .names(kind)
    .map((name) => ({ name, words: /^title: *(.*)$/m.exec(fileLibrary().read(kind, name)?.text ?? "")?.[1] ?? "" }));

const profileNamed = (name: string): Result<Profile> => {
  const loaded = load(fileLibrary(), "profiles", name, parseProfile);
  return loaded.ok ? good(loaded.value.value) : bad(...loaded.problems);
};

const matches = ({ name, words }: NamedFile, find: string): boolean =>
  `${name} ${words}`.toLowerCase().includes(find.toLowerCase());

const notFound = (kind: KindOfNames, find: string, all: readonly NamedFile[]) => {
  const near = nearest(
    find,
    all.map(({ name }) => name),
  );
  return problem(
    find,
    `nothing of this name among the ${kind}`,
    near === undefined ? undefined : `did you mean "${near}"?`,
  );
};

const WIDTH = 78;
const listed = (names: readonly NamedFile[]): string => {
  const room = Math.max(0, ...names.map(({ name }) => name.length)) + 2;
  return names.flatMap(({ name, words }) => hanging(safeText(name).padEnd(room), safeText(words), WIDTH)).join("\n");
};
