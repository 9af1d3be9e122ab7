import { z } from "zod";
import { checkShape, type DataFile, problemAt, readDataFile, valueAt } from "../../domain/problem/document.ts";
import { bad, byPlace, good, type Problem, type Result } from "../../domain/problem/problem.ts";
import type { Profile } from "../profile/profile.ts";
import { checkRack } from "./check.ts";
import type { Circuit, GroupSize, Rack, RackFixture } from "./rack.ts";

const words = z.string().min(1).max(60);
const positive = z.number().positive();
const universe = z.int().min(1).max(63999);

const fixtureEntry = z.strictObject({
  serial: words.describe("Serial number, as on its plate"),
  uid: z
    .string()
    .regex(/^[0-9A-Fa-f]{4}:[0-9A-Fa-f]{8}$/, "four and eight hex digits, as in 7FF0:00000002")
    .optional()
    .describe("What it answers to over RDM; limber rdm find reads it"),
  profile: words.describe("Kind and mode: a name or a file"),
  shelf: words.describe("As a person would say it: top shelf, left case"),
  place: words.describe("On that shelf: 3rd from the left"),
  universe: universe.optional().describe("Which of the DMX lines it hangs on"),
  address: z.int().min(1).max(512).optional().describe("Start address; limber rack address proposes one"),
  ganged: z.boolean().optional().describe("Shares its address on purpose with others of its kind and mode"),
  branch: words.optional().describe("The output of a splitter that it hangs on"),
  circuit: words.optional().describe("One of the circuits named above"),
});

const line = z.strictObject({
  universe: universe.describe("The universe that goes out there"),
  output: words.describe("As for --output: serial:PATH, break:PATH, sacn:UNIVERSE, artnet:UNIVERSE or sim"),
  to: words.optional().describe("Address that packets are sent to, for outputs on a network"),
});

const circuit = z.strictObject({
  rating_a: positive.describe("Of its breaker or fuse"),
  volts: positive.describe("Of the mains"),
  continuous_factor: positive
    .max(1)
    .optional()
    .describe("Share of the rating that may flow for hours: 0.8 unless your local code says otherwise"),
  rcd: words.optional().describe("One of the RCDs named below"),
});

const rcd = z.strictObject({
  leakage_budget_ma: positive.describe("For all fixtures behind it together, well below what trips it"),
});

const groupSize = z.int().min(1).max(24);

/** The shape of a rack file: the fixtures plugged up together. Transform-free, so that a JSON Schema can be made of it. */
export const rackFile = z.strictObject({
  rack: z
    .string()
    .regex(/^[a-z0-9][a-z0-9-]*$/, "small letters, digits and hyphens only")
    .describe("Name of the rack, as the file is called"),
  title: words.describe("As people read it"),
  lines: z.array(line).min(1).describe("Which universe goes out where"),
  circuits: z.record(z.string(), circuit).optional().describe("Mains circuits by name: what each can carry"),
  rcds: z.record(z.string(), rcd).optional().describe("Residual current devices by name"),
  groups: z
    .strictObject({
      broad: groupSize
        .optional()
        .describe("Watched at once for movement and colour, usually 6, or up to 8 of one kind"),
      fine: groupSize.optional().describe("Watched at once for gobos and focus, usually 3, or 4 of one kind"),
    })
    .optional()
    .describe("How many fixtures one person watches at once"),
  fixtures: z.array(fixtureEntry).min(1).max(500).describe("Every fixture of the rack"),
});
export type RackFile = z.infer<typeof rackFile>;
type FixtureEntry = z.infer<typeof fixtureEntry>;

/** Finds the kind of fixture that a rack file names. */
export type FindProfile = (name: string) => Result<Profile>;

/** A rack file whose every entry makes sense by itself; the fixtures may still be in each other's way. */
export interface RackDraft {
  readonly file: DataFile;
  readonly rack: Rack;
}

/** Reads a rack file: the rack, or everything that is wrong with the file at once. */
export const parseRack = (source: string, text: string, find: FindProfile): Result<Rack> => {
  const read = readEntries(source, text, find);
  if (!read.ok) return read;
  const { file, rack, entries, problems } = read.value;
  const all = [...problems, ...checkRack(file, rack, entries)];
  return all.length > 0 ? bad(...byPlace(all)) : good(rack);
};

/**
 * Reads a rack file without a look at how its fixtures get on with each other, so that it can be put right: the rack, or
 * everything else that is wrong with the file.
 */
export const draftRack = (source: string, text: string, find: FindProfile): Result<RackDraft> => {
  const read = readEntries(source, text, find);
  if (!read.ok) return read;
  const { file, rack, problems } = read.value;
  return problems.length > 0 ? bad(...byPlace(problems)) : good({ file, rack });
};

interface Entries extends RackDraft {
  /** Where in the file's list each fixture of the rack stands: entries that make no sense are not in the rack. */
  readonly entries: readonly number[];
  readonly problems: readonly Problem[];
}

/** The file without a look at its fixtures: each is checked by itself, so that one mistake does not hide the others. */
const frameOfFile = rackFile.extend({ fixtures: z.array(z.unknown()).min(1).max(500) });

const readEntries = (source: string, text: string, find: FindProfile): Result<Entries> => {
  const file = readDataFile(source, text);
  if (!file.ok) return file;
  const frame = checkShape(file.value, frameOfFile);
  const written = valueAt(file.value, ["fixtures"]);
  const list: readonly unknown[] = Array.isArray(written) ? written : [];
  const seen = new Set<string>();
  const checked = list.map((_, index) => fixtureAt(file.value, index, find, seen));
  const problems = checked.flatMap((one) => (one.ok ? [] : one.problems));
  if (!frame.ok) return bad(...byPlace([...frame.problems, ...problems]));
  const fixtures = checked.flatMap((one) => (one.ok ? [one.value] : []));
  const entries = checked.flatMap((one, index) => (one.ok ? [index] : []));
  return good({ file: file.value, rack: rackFrom(frame.value, fixtures), entries, problems });
};

/** `seen` holds the kinds already asked for: what is wrong with one is told once, not once for each of its fixtures. */
const fixtureAt = (file: DataFile, index: number, find: FindProfile, seen: Set<string>): Result<RackFixture> => {
  const path = ["fixtures", index];
  const entry = checkShape(file, fixtureEntry, path);
  if (!entry.ok) return entry;
  if ((entry.value.universe === undefined) !== (entry.value.address === undefined))
    return bad(problemAt(file, path, { message: "universe and address go together", hint: "both, or neither yet" }));
  const found = find(entry.value.profile);
  if (found.ok) return good(fixtureFrom(entry.value, found.value));
  const first = !seen.has(entry.value.profile);
  seen.add(entry.value.profile);
  const here = (one: Problem): Problem =>
    one.place ? one : problemAt(file, [...path, "profile"], { message: one.message, hint: one.hint });
  return bad(...(first ? found.problems.map(here) : []));
};

const fixtureFrom = (entry: FixtureEntry, profile: Profile): RackFixture => ({
  serial: entry.serial,
  uid: entry.uid,
  profile,
  place: { shelf: entry.shelf, position: entry.place },
  start:
    entry.universe !== undefined && entry.address !== undefined
      ? { universe: entry.universe, slot: entry.address }
      : undefined,
  ganged: entry.ganged ?? false,
  branch: entry.branch,
  circuit: entry.circuit,
});

/** How many fixtures a person can watch at once, about (common practice, no source). */
/** Common practice, no source. */
const USUAL_GROUPS = { broad: { usual: 6, most: 8 }, fine: { usual: 3, most: 4 } } as const;
/** What a person has written is never exceeded. */
const groupSizeOf = (written: number | undefined): GroupSize | undefined =>
  written === undefined ? undefined : { usual: written, most: written };
/**
 * NFPA 70 (NEC) 210.20(A): a breaker is sized at 125 % of a continuous load, so that a 20 A circuit carries 16 A for hours
 * (secondary source). Elsewhere other rules hold.
 */
const USUAL_CONTINUOUS = 0.8;

type RackHead = Omit<RackFile, "fixtures">;

const rackFrom = (frame: RackHead, fixtures: readonly RackFixture[]): Rack => ({
  name: frame.rack,
  title: frame.title,
  fixtures,
  lines: frame.lines.map(({ universe, output, to }) => ({ universe, output, to })),
  circuits: Object.entries(frame.circuits ?? {}).map(([name, circuit]) => circuitFrom(frame, name, circuit)),
  groupSizes: {
    broad: groupSizeOf(frame.groups?.broad) ?? USUAL_GROUPS.broad,
    fine: groupSizeOf(frame.groups?.fine) ?? USUAL_GROUPS.fine,
  },
});

const circuitFrom = (
  { rcds }: RackHead,
  name: string,
  { rating_a, volts, continuous_factor, rcd }: NonNullable<RackFile["circuits"]>[string],
): Circuit => {
  const behind = rcd === undefined ? undefined : rcds?.[rcd];
  return {
    name,
    rating: rating_a,
    volts,
    continuous: continuous_factor ?? USUAL_CONTINUOUS,
    rcd: rcd !== undefined && behind ? { name: rcd, budget: behind.leakage_budget_ma } : undefined,
  };
};
