import { z } from "zod";
import { checkShape, type DataFile, problemAt, readDataFile, valueAt } from "../../domain/problem/document.ts";
import { bad, byPlace, good, hintFor, type Result } from "../../domain/problem/problem.ts";
import { FUNCTION_IDS, type FunctionId } from "../../domain/trade/functions.ts";
import { checkProfile } from "./check.ts";
import {
  type Band,
  bandOf,
  type FunctionSpec,
  fullRaw,
  insideBand,
  type Power,
  type Profile,
  type Raw,
  rawOf,
  rawOfShare,
} from "./profile.ts";
import type { BandFile } from "./schema.ts";
import {
  banded,
  commands,
  type FunctionFile,
  type ProfileFile,
  profileFile,
  travelDegrees,
  travelPercent,
  wheel,
} from "./schema.ts";

/** A profile that can be used, beside the file it was read from: for whoever has something to say about a place in it. */
export interface ReadProfile {
  readonly file: DataFile;
  readonly written: ProfileFile;
  readonly profile: Profile;
}

/** Reads a profile from YAML: the profile, or everything that is wrong with the file at once. */
export const parseProfile = (source: string, text: string): Result<Profile> => {
  const read = readProfile(source, text);
  return read.ok ? good(read.value.profile) : read;
};

/**
 * Reads a profile from YAML with the file it was read from, for whoever points at a line of it: or
 * everything that is wrong with the file at once.
 */
export const readProfile = (source: string, text: string): Result<ReadProfile> => {
  const file = readDataFile(source, text);
  if (!file.ok) return file;
  const frame = checkShape(file.value, frameOfFile);
  const entries = entriesOf(file.value);
  const checked = entries.map(([id, spec]) => functionIn(file.value, id, spec));
  const inside = checked.flatMap((one) => (one.ok ? [] : one.problems));
  if (!frame.ok) return bad(...byPlace([...frame.problems, ...inside]));
  // Functions that are well formed are checked against each other even when others are not.
  const functions = new Map(checked.flatMap((one) => (one.ok ? [one.value] : [])));
  const problems = [...inside, ...checkProfile(file.value, frame.value, functions)];
  if (problems.length > 0) return bad(...byPlace(problems));
  const written = file.value.value as ProfileFile;
  return good({ file: file.value, written, profile: profileFrom(written, functions) });
};

/** The file without a look at its functions: each of those is held against the one shape that its keys name. */
const frameOfFile = profileFile.extend({ functions: z.record(z.string(), z.unknown()) });

const profileFrom = (written: ProfileFile, functions: ReadonlyMap<FunctionId, FunctionSpec>): Profile => ({
  name: written.profile,
  fixture: written.fixture,
  title: written.title,
  slots: written.slots,
  powerUp: written.power_up_s,
  lamp: {
    kind: written.lamp.kind,
    strike: written.lamp.strike_s,
    warm: written.lamp.warm_s,
    restrike: written.lamp.restrike_s,
  },
  power: written.power && powerFrom(written.power),
  unitLoads: written.unit_loads ?? 1,
  functions,
  held: (written.held ?? []).map(({ slots, at }) => ({ slots, at })),
  rest: restOf(functions, written),
});

const powerFrom = (file: NonNullable<ProfileFile["power"]>): Power => ({
  volts: file.at_v,
  running: file.running_a,
  starting: file.starting_a,
  start: file.start_s,
  leakage: file.leakage_ma,
});

const entriesOf = (file: DataFile): readonly (readonly [string, unknown])[] => {
  const functions = valueAt(file, ["functions"]);
  return typeof functions === "object" && functions !== null ? Object.entries(functions).slice(0, MOST_LOOKED_AT) : [];
};

/** Far more than there are functions: in a longer list some names are wrong, and are told. */
const MOST_LOOKED_AT = 200;

const functionIn = (file: DataFile, name: string, spec: unknown): Result<readonly [FunctionId, FunctionSpec]> => {
  const path = ["functions", name];
  const id = FUNCTION_IDS.find((one) => one === name);
  if (id === undefined) {
    const hint = hintFor(name, FUNCTION_IDS);
    return bad(problemAt(file, path, { message: `"${name}" is not a known function`, hint, at: "key" }));
  }
  const checked = checkShape(file, shapeFor(spec), path);
  return checked.ok ? good([id, specOf(checked.value)]) : checked;
};

const shapeFor = (spec: unknown): z.ZodType<FunctionFile> => {
  const has = (key: string) => typeof spec === "object" && spec !== null && key in spec;
  if (has("commands")) return commands;
  if (has("positions") || has("wheel")) return wheel;
  if (has("bands")) return banded;
  return has("from_deg") || has("to_deg") ? travelDegrees : travelPercent;
};

const USUAL_LAG_S = 0.2;
const USUAL_MOVE_S = 0.3;

const specOf = (file: FunctionFile): FunctionSpec => {
  if ("commands" in file)
    return {
      kind: "commands",
      slots: file.slots,
      rest: file.rest,
      commands: file.commands.map(({ is, at, hold_s, then_s }) => ({ is, at, hold: hold_s, deaf: then_s })),
    };
  if ("positions" in file)
    return { kind: "wheel", slots: file.slots, wheel: file.wheel, positions: file.positions, step: file.step_s };
  if ("bands" in file)
    return { kind: "banded", slots: file.slots, bands: file.bands.map(bandFrom), move: file.move_s ?? USUAL_MOVE_S };
  const [unit, from, to] =
    "from_deg" in file
      ? (["deg", file.from_deg, file.to_deg] as const)
      : (["pct", file.from_pct, file.to_pct] as const);
  return {
    kind: "travel",
    slots: file.slots,
    unit,
    from,
    to,
    low: file.from_raw ?? 0,
    high: file.to_raw ?? fullRaw(file),
    fullTravel: file.full_travel_s,
    lag: file.lag_s ?? USUAL_LAG_S,
    sharp: "sharp_pct" in file ? file.sharp_pct : undefined,
    cells: file.cells ?? [],
  };
};

const bandFrom = (band: BandFile): Band => {
  const { from, to, is } = band;
  const range =
    rangeFrom(band.from_hz, band.to_hz) ??
    rangeFrom(band.from_deg, band.to_deg) ??
    rangeFrom(band.from_rpm, band.to_rpm);
  return { from, to, is, range };
};

const rangeFrom = (from: number | undefined, to: number | undefined) =>
  from === undefined || to === undefined ? undefined : ([from, to] as const);

/** The raw value at rest of every function: as written under `rest`, else as the kind of function wants it. */
const restOf = (functions: ReadonlyMap<FunctionId, FunctionSpec>, written: ProfileFile): ReadonlyMap<FunctionId, Raw> =>
  new Map(
    [...functions].map(([id, spec]) => [
      id,
      writtenRest(spec, written.rest[id]) ?? ownRest(spec, written, id) ?? usualRest(id, spec),
    ]),
  );

const writtenRest = (spec: FunctionSpec, rest: ProfileFile["rest"][FunctionId]): Raw | undefined => {
  if (typeof rest !== "string") return rest;
  const band = spec.kind === "banded" ? bandOf(spec, rest) : undefined;
  return band && insideBand(band);
};

const ownRest = (spec: FunctionSpec, written: ProfileFile, id: FunctionId): Raw | undefined => {
  const file = written.functions[id];
  if (spec.kind !== "travel" || file === undefined) return undefined;
  const value = "rest_deg" in file ? file.rest_deg : "rest_pct" in file ? file.rest_pct : undefined;
  return value === undefined ? undefined : rawOf(spec, value);
};

/** Pan, tilt, zoom and focus rest mid-travel, everything else out of the beam, control slots at "no function". */
const usualRest = (id: FunctionId, spec: FunctionSpec): Raw => {
  switch (spec.kind) {
    case "travel":
      return ["Pan", "Tilt", "Zoom", "Focus1", "ShaperRot"].includes(id) ? rawOfShare(spec, 0.5) : rawOf(spec, 0);
    case "banded":
      return insideBand(
        bandOf(spec, "closed") ??
          bandOf(spec, "out") ??
          bandOf(spec, "stop") ??
          bandOf(spec, "index") ?? { from: 0, to: 0, is: "nothing", range: undefined },
      );
    case "wheel":
      return spec.positions.find(({ is }) => is === "open")?.at ?? spec.positions[0]?.at ?? 0;
    case "commands":
      return spec.rest;
  }
};
