import { z } from "zod";
import { FUNCTION_IDS } from "../../domain/trade/functions.ts";
import { LIGHT_SOURCE_IDS, WHEEL_KINDS } from "../../domain/trade/mechanisms.ts";

/** What a rule is called: in a profile's own `allow`, and after what the rule says. */
export const RULE_NAMES = [
  "slots-without-function",
  "fine-slot-far",
  "fine-slot-first",
  "shutter-without-open",
  "shutter-without-closed",
  "levels-without-band",
  "strobe-without-speed",
  "strobe-too-fast",
  "turn-without-speed",
  "turn-too-fast",
  "index-without-angle",
  "degrees-too-many",
  "degrees-too-few",
  "zero-at-an-end",
  "zoom-angle",
  "percent-as-share",
  "milliseconds",
  "too-quick",
  "lag-missing",
  "move-time-missing",
  "lamp-times-missing",
  "power-up-too-short",
  "reset-too-short",
  "commands-alike",
  "position-names-alike",
  "wheel-without-open",
  "wheel-kind-odd",
  "positions-uneven",
  "first-position-late",
  "rest-not-dark",
  "rest-left-unsaid",
  "rest-on-a-command",
  "focus-without-sharp",
  "rotation-without-carrier",
  "partner-missing",
  "title-says-other",
  "name-not-file",
  "current-too-high",
] as const;
export type RuleName = (typeof RULE_NAMES)[number];

/** The shape of a profile file: one kind of fixture in one mode. Transform-free, so that a JSON Schema can be made of it. */

const slotNumber = z.int().min(1).max(512);
const level = z.int().min(0).max(255);
const positive = z.number().positive();
const slots = z.array(slotNumber).min(1).max(4).describe("Slots within the fixture, coarse first");
const raw = z
  .int()
  .min(0)
  .max(256 ** 4 - 1);

/** What a stretch of a slot does. */
export const BAND_MEANINGS = ["closed", "open", "strobe", "out", "in", "index", "turn", "stop", "nothing"] as const;
const band = z.strictObject({
  from: level,
  to: level,
  is: z.enum(BAND_MEANINGS),
  from_hz: positive.optional().describe("Of a strobe: flashes a second at the first value"),
  to_hz: positive.optional(),
  from_deg: z.number().optional(),
  to_deg: z.number().optional(),
  from_rpm: z.number().optional(),
  to_rpm: z.number().optional(),
});

const motion = {
  from_raw: raw.optional().describe("Raw value of the first end, where the slots do something else below it"),
  to_raw: raw.optional().describe("Raw value of the second end, where the slots do something else above it"),
  full_travel_s: positive.describe("Seconds from one end to the other at full speed, started and stopped"),
  lag_s: z.number().nonnegative().max(3).optional().describe("Seconds between the frame and the movement"),
  cells: z
    .array(slots)
    .min(1)
    .max(128)
    .optional()
    .describe("Slots of further cells that do the same, such as the other pixels of an LED wash: all are driven alike"),
};

/** Moves between two ends, given in degrees. */
export const travelDegrees = z.strictObject({
  slots,
  from_deg: z.number().describe("Where raw 0, or from_raw, stands"),
  to_deg: z.number().describe("Where the highest raw value, or to_raw, stands"),
  rest_deg: z.number().optional(),
  ...motion,
});

/** Moves between two ends, given in percent. */
export const travelPercent = z.strictObject({
  slots,
  from_pct: z.number().min(0).max(100),
  to_pct: z.number().min(0).max(100),
  rest_pct: z.number().min(0).max(100).optional(),
  sharp_pct: z.number().min(0).max(100).optional().describe("Focus only: where a gobo is sharp on the wall"),
  ...motion,
});

/** Changes by stretches of one slot: a shutter, a prism, a rotation. */
export const banded = z.strictObject({
  slots: z.array(slotNumber).length(1),
  bands: z.array(band).min(1),
  move_s: positive.optional().describe("Seconds for one change"),
});

/** A wheel with named positions. */
export const wheel = z.strictObject({
  slots: z.array(slotNumber).length(1),
  wheel: z.enum(WHEEL_KINDS),
  positions: z.array(z.strictObject({ at: level, is: z.string().min(1) })).min(2),
  step_s: positive.describe("Seconds to the next position"),
});

/** A control slot: commands held for a while. */
export const commands = z.strictObject({
  slots: z.array(slotNumber).length(1),
  rest: level,
  commands: z
    .array(
      z.strictObject({
        is: z.enum(["reset", "lamp-on", "lamp-off", "fans-low", "fans-full"]),
        at: level,
        hold_s: positive,
        then_s: z.number().nonnegative().describe("Seconds until the fixture listens again"),
      }),
    )
    .min(1),
});

const functionSpec = z.union([travelDegrees, travelPercent, banded, wheel, commands]);

/** Slots that Limber does not move, and the value that they want meanwhile. */
const held = z.strictObject({
  slots,
  at: raw.describe("Raw value that they are held at"),
  is: z.string().min(1).describe("What they are, in your own words"),
});

const lamp = z.strictObject({
  kind: z.enum(LIGHT_SOURCE_IDS).describe("What gives the light; cautions follow from it"),
  strike_s: z.number().nonnegative().describe("From lamp on until there is light"),
  warm_s: z.number().nonnegative().describe("No judgement of light or colour before"),
  restrike_s: z.number().nonnegative().describe("Too hot to strike again for so long"),
});

const power = z.strictObject({
  at_v: positive.describe("Mains voltage that the currents were read at"),
  running_a: positive.describe("Homed, lit, everything moving"),
  starting_a: positive.describe("The most it draws while it starts and strikes"),
  start_s: positive.describe("From mains on until it draws no more than running_a: homed and, with a lamp, struck"),
  leakage_ma: z.number().nonnegative().describe("Current in its protective earth when nothing is wrong"),
});

export const profileFile = z.strictObject({
  profile: z
    .string()
    .regex(/^[a-z0-9][a-z0-9-]*$/, "small letters, digits and hyphens only")
    .describe("Name of the kind and mode, as the file is called"),
  fixture: z
    .string()
    .min(1)
    .optional()
    .describe("The kind of fixture, the same in all its modes: another of its modes may be set by mistake"),
  title: z.string().min(1).describe("As people read it: the kind, the mode, how many slots"),
  slots: slotNumber.describe("How many slots the mode takes"),
  power_up_s: positive.describe("Homing time after the mains goes on; deaf to DMX meanwhile"),
  power: power.optional().describe("What it draws from the mains; a rack is switched on by it"),
  unit_loads: positive.max(32).optional().describe("What it loads its DMX line with; 1 unless the maker says less"),
  running_a: positive.optional().describe("Said in power now; still read in files of kept runs"),
  lamp,
  functions: z
    .partialRecord(z.enum(FUNCTION_IDS), functionSpec)
    .describe("What it can do, by the attribute names of DIN SPEC 15800 (GDTF); limber names functions lists them"),
  rest: z
    .partialRecord(z.enum(FUNCTION_IDS), z.union([level, z.enum(BAND_MEANINGS)]))
    .describe("The dark, still state"),
  held: z.array(held).optional().describe("Slots of no function here that want another value than 0"),
  allow: z
    .partialRecord(z.enum(RULE_NAMES), z.string().min(10))
    .optional()
    .describe("Exceptions: what the profile check would doubt, and the reason why it is right here"),
});
export type ProfileFile = z.infer<typeof profileFile>;
export type FunctionFile = z.infer<typeof functionSpec>;
/** One band of a function as a file has it. */
export type BandFile = Extract<FunctionFile, { bands: unknown }>["bands"][number];
/** One command of a control slot as a file has it. */
export type CommandFile = Extract<FunctionFile, { commands: unknown }>["commands"][number];
