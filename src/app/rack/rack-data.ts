import { basename } from "node:path";
import { type Bench, parseBench } from "../../data/bench/bench.ts";
import { parseProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { draftRack, type FindProfile, parseRack, type RackDraft } from "../../data/rack/parse.ts";
import type { Rack } from "../../data/rack/rack.ts";
import { parseSequence } from "../../data/sequence/parse.ts";
import type { Sequence } from "../../data/sequence/sequence.ts";
import { bad, good, type Problem, type Result } from "../../domain/problem/problem.ts";
import type { DataLibrary } from "../../run/ports.ts";
import { type Loaded, load } from "../common/data.ts";

/** A rack file of this name with all its profiles, or everything that is wrong with it. */
export const loadRack = (shelf: DataLibrary, name: string): Result<Loaded<Rack>> =>
  load(shelf, "racks", name, (source, text) => parseRack(source, text, profilesOn(shelf)));

/**
 * A rack file of this name whose fixtures may still be in each other's way, with all its profiles; or
 * everything else that is wrong with it.
 */
export const loadDraft = (shelf: DataLibrary, name: string): Result<Loaded<RackDraft>> =>
  load(shelf, "racks", name, (source, text) => draftFrom(shelf, source, text));

/**
 * The rack in a text, whose fixtures may still be in each other's way, with all its profiles; or
 * everything else that is wrong with it.
 */
export const draftFrom = (shelf: DataLibrary, source: string, text: string): Result<RackDraft> =>
  draftRack(source, text, profilesOn(shelf));

/** Finds profiles on the shelf; each kind is read once, however many fixtures are of it. */
export const profilesOn = (shelf: DataLibrary): FindProfile => {
  const read = new Map<string, Result<Profile>>();
  return (name) => {
    const before = read.get(name);
    if (before) return before;
    const loaded = load(shelf, "profiles", name, parseProfile);
    const found: Result<Profile> = loaded.ok ? { ok: true, value: loaded.value.value } : loaded;
    read.set(name, found);
    return found;
  };
};

/** The data files of a rack run, with the texts that the journal keeps. */
export interface RackMaterial {
  readonly rack: Loaded<Rack>;
  readonly sequence: Loaded<Sequence>;
  readonly bench: Loaded<Bench>;
  /** The texts of the profiles, by the names that the rack file gives them. */
  readonly profiles: ReadonlyMap<string, string>;
}

export interface RackNames {
  readonly rack: string;
  readonly sequence: string;
  readonly bench: string;
}

/** Everything a rack run is planned from, or everything wrong with all of it at once. */
export const loadRackMaterial = (shelf: DataLibrary, names: RackNames): Result<RackMaterial> => {
  const profiles = new Map<string, string>();
  const rack = loadRack(remembering(shelf, profiles), names.rack);
  const sequence = load(shelf, "sequences", names.sequence, parseSequence);
  const bench = load(shelf, "benches", names.bench, parseBench);
  if (rack.ok && sequence.ok && bench.ok)
    return good({ rack: rack.value, sequence: sequence.value, bench: bench.value, profiles });
  return bad(...[rack, sequence, bench].flatMap((one): readonly Problem[] => (one.ok ? [] : one.problems)));
};

/** Keeps the text of every profile that was read. */
const remembering = (shelf: DataLibrary, profiles: Map<string, string>): DataLibrary => ({
  names: (kind) => shelf.names(kind),
  read: (kind, name) => {
    const found = shelf.read(kind, name);
    if (kind === "profiles" && found) profiles.set(name, found.text);
    return found;
  },
});

/** The name of a rack by the file it comes from: "Truck 7 (back).csv" becomes "truck-7-back". */
export const rackNameFrom = (file: string): string =>
  basename(file)
    .replace(/\.[^.]*$/, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-|-$/g, "") || "rack";
