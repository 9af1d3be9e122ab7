import { z } from "zod";
import { recordFrom } from "../../domain/keys.ts";
import { FUNCTION_IDS } from "../../domain/trade/functions.ts";
import { WRITTEN_ROUTINE_IDS, type WrittenRoutineId } from "../../domain/trade/routines.ts";

/** The name a step may have, driven or by hand; without one it is called after what it does. */
export const id = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]*$/, "small letters, digits and hyphens only")
  .optional();

/** The shape of a sequence file: an ordered test plan that speaks of functions, never of slots. Transform-free for JSON Schema. */

const functionId = z.enum(FUNCTION_IDS);
/** One function, several that move together, or the fixture as a whole. */
export const functionsTested = z.union([functionId, z.array(functionId).min(1), z.literal("fixture")]);
const positive = z.number().positive();
const SPEEDS = ["slow", "normal", "full"] as const;

/** What any step may say besides its routine. */
const common = {
  id,
  watch: z.string().min(1).optional().describe("What to watch for, instead of the routine's usual words"),
  beam: z.enum(["open", "shut"]).optional().describe("Shut: judged by ear and by the body's movement"),
  others: z
    .partialRecord(functionId, z.number())
    .optional()
    .describe("Where other functions stand meanwhile: degrees, percent or, for wheels, the position's number"),
};
const times = z.int().min(1).max(200).optional();
const pace = {
  speed: z.enum(SPEEDS).optional(),
  seconds: positive.max(600).optional().describe("For one pass; never faster than the fixture can"),
  deg_per_s: positive.optional(),
};
const dwell_s = positive.max(600).optional();
const levels = z.array(z.number().min(0).max(100)).optional();

const OPTIONS = {
  identify: {},
  "power-up": {},
  home: {},
  sweep: { ...pace, passes: times },
  "short-sweep": { ...pace, passes: times, inset_pct: z.number().min(1).max(45).optional() },
  stopwatch: { passes: times },
  "step-through": { dwell_s, longest_hops: z.boolean().optional() },
  rotate: { slow_s: positive.optional(), fast_s: positive.optional(), index_s: positive.optional() },
  "in-and-out": { times, dwell_s },
  backlash: { times, dwell_s, deg: positive.optional() },
  snap: { times, dwell_s, deg: positive.optional(), pct: positive.max(100).optional() },
  shake: { seconds: positive.max(60).optional() },
  "side-by-side": { dwell_s, at_pct: levels },
  hold: { seconds: positive.max(600).optional(), at_pct: levels },
  soak: { seconds: positive.max(7200).optional() },
  return: { dwell_s },
} as const satisfies Record<WrittenRoutineId, Readonly<Record<string, z.ZodType>>>;

/** One schema for each routine: the routine's name is the key that carries its functions. */
export const STEP_SHAPES = recordFrom(
  WRITTEN_ROUTINE_IDS.map(
    (routine) => [routine, z.strictObject({ [routine]: functionsTested, ...common, ...OPTIONS[routine] })] as const,
  ),
);

export const sequenceFile = z.strictObject({
  sequence: z
    .string()
    .regex(/^[a-z0-9][a-z0-9-]*$/, "small letters, digits and hyphens only")
    .describe("Name of the test plan, as the file is called"),
  title: z.string().min(1).describe("As people read it"),
  about: z.string().optional().describe("What it is for, and when to choose it"),
  steps: z
    .array(z.record(z.string(), z.unknown()))
    .min(1)
    .max(500)
    .describe("Each a routine with its functions; limber names routines lists the routines"),
});

/** Everything a step can say, whatever its routine. */
export type StepOptions = Readonly<Partial<z.infer<z.ZodObject<typeof common & UnionOfOptions>>>>;
type UnionOfOptions = (typeof OPTIONS)["sweep"] &
  (typeof OPTIONS)["short-sweep"] &
  (typeof OPTIONS)["step-through"] &
  (typeof OPTIONS)["rotate"] &
  (typeof OPTIONS)["backlash"] &
  (typeof OPTIONS)["snap"] &
  (typeof OPTIONS)["hold"];
