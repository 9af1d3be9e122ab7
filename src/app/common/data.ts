import { type Bench, parseBench } from "../../data/bench/bench.ts";
import { parseProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { parseSequence } from "../../data/sequence/parse.ts";
import type { Sequence } from "../../data/sequence/sequence.ts";
import { bad, hintFor, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import type { DataLibrary, LibraryKind } from "../../run/ports.ts";

/** A data file with the text it was read from: a run keeps the text. */
export interface Loaded<T> {
  readonly value: T;
  readonly text: string;
}

export interface Material {
  readonly profile: Loaded<Profile>;
  readonly sequence: Loaded<Sequence>;
  readonly bench: Loaded<Bench>;
}

export interface Names {
  readonly profile: string;
  readonly sequence: string;
  readonly bench: string;
}

/** Everything a run is planned from, or everything wrong with all of it at once. */
export const loadMaterial = (shelf: DataLibrary, names: Names): Result<Material> => {
  const profile = load(shelf, "profiles", names.profile, parseProfile);
  const sequence = load(shelf, "sequences", names.sequence, parseSequence);
  const bench = load(shelf, "benches", names.bench, parseBench);
  if (profile.ok && sequence.ok && bench.ok)
    return { ok: true, value: { profile: profile.value, sequence: sequence.value, bench: bench.value } };
  return bad(...[profile, sequence, bench].flatMap((result): readonly Problem[] => (result.ok ? [] : result.problems)));
};

const ONE_OF: Readonly<Record<LibraryKind, string>> = {
  profiles: "profile",
  sequences: "sequence",
  benches: "bench file",
  racks: "rack file",
  shops: "shop file",
};

/**
 * One data file of the shelf by its name, read and checked: with its text, or everything that is wrong with
 * it, or that there is none of this name.
 */
export const load = <T>(
  shelf: DataLibrary,
  kind: LibraryKind,
  name: string,
  parse: (source: string, text: string) => Result<T>,
): Result<Loaded<T>> => {
  const found = shelf.read(kind, name);
  if (!found) return bad(problem(name, `there is no ${ONE_OF[kind]} of this name`, hintFor(name, shelf.names(kind))));
  const parsed = parse(found.file, found.text);
  return parsed.ok ? { ok: true, value: { value: parsed.value, text: found.text } } : parsed;
};

/** What a fixture may be set to by mistake: its other modes on the shelf, or all profiles when it is not said what it is a mode of. */
export const otherProfiles = (shelf: DataLibrary, { name, fixture }: Profile): readonly Profile[] =>
  shelf.names("profiles").flatMap((one) => {
    if (one === name || !mentions(shelf, one, fixture)) return [];
    const loaded = load(shelf, "profiles", one, parseProfile);
    return loaded.ok && isMode(fixture, loaded.value.value) ? [loaded.value.value] : [];
  });

/**
 * Whether a profile may be a mode of this kind, without working through all of them at the beginning of every run: a name
 * without blanks, quotes or escapes stands in the file as it is.
 */
const mentions = (shelf: DataLibrary, profile: string, fixture: string | undefined): boolean =>
  !PLAIN.test(fixture ?? "") || shelf.read("profiles", profile)?.text.includes(fixture ?? "") === true;
const PLAIN = /^[\p{L}\p{N}.-]+$/u;

const isMode = (fixture: string | undefined, other: Profile): boolean =>
  fixture === undefined || other.fixture === fixture;

/**
 * What is wrong with a start address and a universe: DMX512 has 512 slots (ANSI E1.11), and the fixture must fit between
 * its start address and the last of them. `address` is right from 1 to 512, `universe` from 1 to 63999.
 */
export const addressProblems = (profile: Profile, address: number, universe: number): readonly Problem[] => {
  const last = 512 - profile.slots + 1;
  const wrong: Problem[] = [];
  if (!Number.isInteger(address) || address < 1)
    wrong.push(problem("--address", `"${address}" is not a start address`, "1 to 512"));
  else if (address > last)
    wrong.push(
      problem(
        "--address",
        `start address ${address} and ${profile.slots} slots end at ${address + profile.slots - 1}, past 512`,
        `at most ${last}`,
      ),
    );
  if (!Number.isInteger(universe) || universe < 1 || universe > 63999)
    wrong.push(problem("--universe", `"${universe}" is not a universe`, "1 to 63999"));
  return wrong;
};
