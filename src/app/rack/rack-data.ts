import { parseProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { draftRack, type FindProfile, parseRack, type RackDraft } from "../../data/rack/parse.ts";
import type { Rack } from "../../data/rack/rack.ts";
import type { Result } from "../../domain/problem/problem.ts";
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
