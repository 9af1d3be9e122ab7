import { entriesOf } from "../../../domain/keys.ts";
import { bad, good, type Problem, type Result } from "../../../domain/problem/problem.ts";
import { safeText } from "../../../domain/problem/shown-text.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { FunctionFile, ProfileFile } from "../schema.ts";
import { madeProfile, type Remarks, slug } from "../write.ts";
import type { Coverage } from "./coverage.ts";
import type { Description, FixtureType, Mode } from "./description.ts";
import type { Element } from "./element.ts";
import { type ImportedMode, importMode } from "./import-mode.ts";
import { modeName, readMode } from "./read-mode.ts";
import type { Drafted } from "./travel.ts";

/** A profile file made from a GDTF mode, what became of its slots, and what of the mode was assumed or left. */
export interface Imported {
  readonly name: string;
  readonly text: string;
  readonly coverage: Coverage;
  /** How many values are only usual ones, to be measured. */
  readonly toMeasure: number;
  /** What an older file of the same fixture said otherwise. */
  readonly changes: readonly string[];
  readonly notes: readonly Problem[];
}

/** What a profile is made of. */
export interface ImportSource {
  /** The file, in words to people. */
  readonly file: string;
  readonly description: Description;
  readonly mode: Element;
  /** What the profile is called; undefined: after the fixture and its mode. */
  readonly name: string | undefined;
  /** What is known of the file beside its name, as it will stand at the head of the profile. */
  readonly origin?: string;
  /** A profile that was made of an older file of the same fixture: what was measured for it is kept. */
  readonly older?: ProfileFile;
}

/**
 * Makes a profile of one mode. It is read back as any other before it is handed out, and what the checks would doubt in it
 * is allowed with the reason that the maker's file has it so: what Limber writes, Limber takes. Refused where nothing in
 * the mode moves or makes light, or where the file only holds a place for a fixture.
 */
export const profileFrom = (order: ImportSource): Result<Imported> => {
  const { file: source, description, mode: element, name, older } = order;
  const read = readMode(description, element);
  if (!read.ok) return read;
  if (isPlaceholder(read.value))
    return bad(
      description.xml.problem(element, "every slot is called a dimmer: the file only holds a place for a fixture"),
    );
  const imported = importMode(description, read.value);
  if (imported.functions.size === 0)
    return bad(
      description.xml.problem(element, "nothing in this mode moves or makes light: there is nothing to test"),
      ...imported.notes,
    );
  const fresh = fileFrom(description.fixture, imported, name ?? profileName(description.fixture, modeName(element)));
  const file = older ? withMeasured(older, fresh) : fresh;
  const remarks: Remarks = {
    schema: "./profile.schema.json",
    about: headOf(order, read.value),
    ...remarksOf(imported),
  };
  const made = madeProfile(`${source}, as a profile`, file, remarks, "From the maker's file");
  if (!made.ok) return bad(...made.problems.map((one) => without(description, element, one)), ...imported.notes);
  return good({
    name: file.profile,
    text: made.value.text,
    coverage: imported.coverage,
    toMeasure: FRAME_USUAL + [...imported.functions.values()].reduce((sum, { measure }) => sum + measure.length, 0),
    changes: older ? changesBetween(older, fresh) : [],
    notes: [...imported.notes, ...made.value.doubts.map((one) => without(description, element, one, "as a profile"))],
  });
};

/** Some programs write a file for a fixture that they know nothing of: Dimmer1, Dimmer2 and so on, one for each slot. */
const isPlaceholder = ({ channels }: Mode): boolean => {
  const names = new Set(channels.flatMap(({ functions }) => functions.map(({ attribute }) => attribute)));
  return names.size > 1 && [...names].every((name) => /^Dimmer\d+$/.test(name));
};

/** Power-up and lamp: no GDTF file holds their times. */
const FRAME_USUAL = 2;

/** The text of the profile is not the user's: the mode is where to look. */
const without = (
  { xml }: Description,
  mode: Element,
  { message, hint }: Problem,
  what = "cannot become a profile",
): Problem => xml.problem(mode, `${what}: ${message}`, hint);

/** The name of a profile is its file's: small letters, digits and hyphens. */
export const profileName = ({ name }: FixtureType, mode: string): string => slug(`${name} ${mode}`);

const fileFrom = (fixture: FixtureType, { mode, functions, held }: ImportedMode, name: string): ProfileFile => ({
  profile: name,
  title: `${fixture.name}, ${mode.name}, ${mode.slots} slots`,
  fixture: slug(fixture.name),
  slots: mode.slots,
  power_up_s: USUAL_POWER_UP_S,
  lamp: shines(functions) || mode.source === "led" || mode.source === "halogen" ? LED : USUAL_DISCHARGE,
  functions: Object.fromEntries([...functions].map(([id, { spec }]) => [id, spec])),
  rest: restOf(functions),
  ...(held.length > 0
    ? { held: held.map(({ slots, at, is, why }) => ({ slots: [...slots], at, is: safeText(`${is}: ${why}`) })) }
    : {}),
});

/** Common practice, no source. */
const USUAL_POWER_UP_S = 45;
const USUAL_DISCHARGE = { kind: "discharge", strike_s: 6, warm_s: 150, restrike_s: 480 } as const;
const LED = { kind: "led", strike_s: 0, warm_s: 0, restrike_s: 0 } as const;

/** Colours that add up come from light-emitting diodes, whatever the file says of a lamp. */
const shines = (functions: ImportedMode["functions"]): boolean =>
  [...functions.keys()].some((id) => id.startsWith("ColorAdd_"));

const restOf = (functions: ImportedMode["functions"]): ProfileFile["rest"] => ({
  ...shutterRest(functions.get("Shutter1")),
  ...(restsAtNothing(functions.get("Dimmer")) ? { Dimmer: 0 } : {}),
});

/** Closed where it can close; else open, and the dimmer or the emitters make it dark. */
const shutterRest = (shutter: Drafted | undefined): ProfileFile["rest"] => {
  if (!shutter || !("bands" in shutter.spec)) return {};
  const closes = shutter.spec.bands.some(({ is }) => is === "closed");
  return { Shutter1: closes ? "closed" : "open" };
};

/** Not a dimmer that runs backwards, or begins further up: those say with rest_pct where it is dark. */
const restsAtNothing = (dimmer: Drafted | undefined): boolean =>
  dimmer !== undefined && !("rest_pct" in dimmer.spec) && !("from_raw" in dimmer.spec);

const headOf = ({ file, description, origin }: ImportSource, mode: Mode): readonly string[] => [
  safeText(`Made by Limber from ${file}: ${description.fixture.name}, mode ${mode.name}.`),
  ...(origin === undefined ? [] : [safeText(origin)]),
  "Slots, ranges and positions are the file's. What the file does not say is a usual value and marked: measure it.",
];

const remarksOf = ({ mode, functions }: ImportedMode): Pick<Remarks, "frame" | "functions"> => ({
  frame: { power_up_s: NOT_SAID, ...(mode.source === "led" ? {} : { lamp: lampWords(mode, shines(functions)) }) },
  functions: Object.fromEntries(
    [...functions].flatMap(([id, { remarks, measure }]) => {
      const words = [...remarks, ...(measure.length > 0 ? [`${NOT_SAID}: ${measure.join(", ")}`] : [])];
      return words.length > 0 ? [[id, safeText(words.join("; "))]] : [];
    }),
  ),
});

const NOT_SAID = "not in the file, measure";

const lampWords = ({ source }: Mode, shining: boolean): string => {
  if (shining) return "the file names no LED, yet its colours add up";
  if (source === "halogen") return "a halogen lamp: it needs no time to strike";
  return source === "unknown" ? "the file does not say which lamp, nor its times" : NOT_SAID;
};

/**
 * A profile from a newer file, with what was measured for the older one: times, currents and lamp, of every function that still
 * has the same slots and ends.
 */
export const withMeasured = (older: ProfileFile, newer: ProfileFile): ProfileFile => ({
  ...newer,
  power_up_s: older.power_up_s,
  lamp: older.lamp.kind === newer.lamp.kind ? older.lamp : newer.lamp,
  ...(older.power ? { power: older.power } : {}),
  ...(older.unit_loads ? { unit_loads: older.unit_loads } : {}),
  functions: Object.fromEntries(
    entriesOf(newer.functions).map(([id, spec]) => {
      const before = older.functions[id];
      return [id, before && isSame(before, spec) ? { ...spec, ...measuredOf(before) } : spec];
    }),
  ),
});

/** What stands in no maker's file. */
const MEASURED = ["full_travel_s", "lag_s", "sharp_pct", "step_s", "move_s"];

const measuredOf = (spec: FunctionFile): Partial<FunctionFile> =>
  Object.fromEntries(Object.entries(spec).filter(([key]) => MEASURED.includes(key)));

/** Alike in all that a maker's file says. */
const isSame = (one: FunctionFile, other: FunctionFile): boolean => chartOf(one) === chartOf(other);

const chartOf = (spec: FunctionFile): string =>
  JSON.stringify(
    Object.entries(spec)
      .filter(([key]) => !MEASURED.includes(key))
      .toSorted(([a], [b]) => (a < b ? -1 : 1)),
  );

/** What a newer file says otherwise, a line for each: what a technician has to look at again. */
export const changesBetween = (older: ProfileFile, newer: ProfileFile): readonly string[] => {
  const ids = [...new Set([...entriesOf(older.functions), ...entriesOf(newer.functions)].map(([id]) => id))];
  return [
    ...(older.slots === newer.slots ? [] : [`${newer.slots} slots, before ${older.slots}`]),
    ...ids.flatMap((id) => functionChanges(id, older.functions[id], newer.functions[id])),
    ...(JSON.stringify(heldOf(older)) === JSON.stringify(heldOf(newer))
      ? []
      : ["other slots are held, or at other values"]),
  ];
};

const heldOf = ({ held = [] }: ProfileFile) => held.map(({ slots, at }) => [slots, at]);

const functionChanges = (id: FunctionId, older?: FunctionFile, newer?: FunctionFile): readonly string[] => {
  if (older === undefined) return [`${id} is new`];
  if (newer === undefined) return [`${id} is gone`];
  if (isSame(older, newer)) return [];
  const [before, now] = [
    new Map<string, unknown>(Object.entries(older)),
    new Map<string, unknown>(Object.entries(newer)),
  ];
  const keys = [...new Set([...before.keys(), ...now.keys()])].filter((key) => !MEASURED.includes(key));
  return keys.flatMap((key) => {
    const [was, is] = [JSON.stringify(before.get(key)), JSON.stringify(now.get(key))];
    return was === is ? [] : [`${id}: ${key} ${short(is)}, before ${short(was)}`];
  });
};

const short = (value: string | undefined): string =>
  value === undefined ? "none" : value.length > 60 ? `${value.slice(0, 57)}...` : value;
