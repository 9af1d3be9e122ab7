import { z } from "zod";
import { recordFrom } from "../../domain/keys.ts";
import { CLEANING_IDS, type CleaningId } from "../../domain/trade/cleanings.ts";
import { FUNCTION_IDS, type FunctionId } from "../../domain/trade/functions.ts";
import { CLOSING, COVERS, HOLD_POINT_IDS, type HoldPointId, OPENING } from "../../domain/trade/hold-points.ts";
import { INSPECTION_IDS, type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { READING_IDS, type ReadingId } from "../../domain/trade/readings.ts";
import {
  type ByHandId,
  type RoutineId,
  WRITTEN_ROUTINE_IDS,
  type WrittenRoutineId,
} from "../../domain/trade/routines.ts";

/** An ordered test plan for any fixture. */
export interface Sequence {
  readonly name: string;
  readonly title: string;
  readonly steps: readonly Step[];
  /** What is done by hand between the steps, in order. */
  readonly byHand: readonly HandStep[];
}

/** One routine on one function, or on several that move together. */
export interface Step {
  /** Unique within the sequence; written, or made from the routine and its functions. */
  readonly id: string;
  readonly routine: RoutineId;
  /** Empty: the fixture as a whole. */
  readonly functions: readonly FunctionId[];
  readonly options: StepOptions;
  /** The line of the sequence file it came from. */
  readonly line: number;
}

/** A step that a person does by hand. It has no frames: the DMX line is at rest meanwhile. */
export interface HandStep {
  /** Unique within the sequence. */
  readonly id: string;
  readonly work: HandWork;
  /** It comes before the driven step of this number, counted from 0; the number of steps when it comes after all of them. */
  readonly before: number;
  /** The line of the sequence file. */
  readonly line: number;
}

/** The name a step may have, driven or by hand; without one it is called after what it does. */
const id = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]*$/, "small letters, digits and hyphens only")
  .optional();

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

/** The shape of a sequence file: an ordered test plan that speaks of functions, never of slots. Transform-free for JSON Schema. */
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

export type HandWork =
  | { readonly kind: "hold-point"; readonly points: readonly HoldPointId[] }
  /** Proposed: what the fault model proposes, in its order, then what is always due. Due: only that. Outside: what is due before power. */
  | { readonly kind: "inspect"; readonly looks: LookChoice | readonly InspectionId[] }
  | { readonly kind: "clean"; readonly what: "due" | readonly CleaningId[] }
  | { readonly kind: "reading"; readonly reading: ReadingId };

const LOOK_CHOICES = ["outside", "due", "proposed"] as const;
type LookChoice = (typeof LOOK_CHOICES)[number];

const oneOrMore = <Id extends string>(ids: readonly Id[]) => z.union([z.enum(ids), z.array(z.enum(ids)).min(1)]);

const POINTS = z.union([z.enum(["opening", "closing"]), oneOrMore(HOLD_POINT_IDS)]);
const LOOKS = z.union([z.enum(LOOK_CHOICES), oneOrMore(INSPECTION_IDS)]);
const CLEANINGS = z.union([z.literal("due"), oneOrMore(CLEANING_IDS)]);
const READING = z.enum(READING_IDS);

/** Transform-free for JSON Schema: the step's kind is the key that carries what is to be done. */
export const HAND_SHAPES = {
  "hold-point": z.strictObject({ "hold-point": POINTS, id }),
  inspect: z.strictObject({ inspect: LOOKS, id }),
  clean: z.strictObject({ clean: CLEANINGS, id }),
  reading: z.strictObject({ reading: READING, id }),
} as const satisfies Record<ByHandId, z.ZodType>;

/** The work by hand that a checked step asks for: `written` is what stands under its key in the file. */
export const handWork = (kind: ByHandId, written: unknown): HandWork => {
  switch (kind) {
    case "hold-point":
      return { kind, points: pointsIn(POINTS.parse(written)) };
    case "inspect":
      return { kind, looks: looksIn(LOOKS.parse(written)) };
    case "clean":
      return { kind, what: cleaningsIn(CLEANINGS.parse(written)) };
    case "reading":
      return { kind, reading: READING.parse(written) };
    default:
      return kind satisfies never;
  }
};

const pointsIn = (written: z.infer<typeof POINTS>): readonly HoldPointId[] =>
  written === "opening" ? OPENING : written === "closing" ? CLOSING : [written].flat();

const looksIn = (written: z.infer<typeof LOOKS>): LookChoice | readonly InspectionId[] =>
  LOOK_CHOICES.find((choice) => choice === written) ??
  [written].flat().flatMap((one) => INSPECTION_IDS.filter((id) => id === one));

const cleaningsIn = (written: z.infer<typeof CLEANINGS>): "due" | readonly CleaningId[] =>
  written === "due" ? "due" : [written].flat();

/** Whether the mains is off for this work, so that the next movement is a power-up. */
export const needsMainsOff = (work: HandWork): boolean => {
  switch (work.kind) {
    case "hold-point":
      return work.points.some((point) => point !== "still" && point !== "area-clear");
    case "inspect":
      return (
        typeof work.looks === "string" || work.looks.some((look) => !underPower(COVERS[inspection(look).cover].holds))
      );
    case "clean":
      return true;
    case "reading":
      return work.reading !== "source-hours";
    default:
      return work satisfies never;
  }
};

const underPower = (holds: readonly HoldPointId[]): boolean => holds.includes("still");
