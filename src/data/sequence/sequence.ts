import { z } from "zod";
import { CLEANING_IDS, type CleaningId } from "../../domain/trade/cleanings.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { CLOSING, COVERS, HOLD_POINT_IDS, type HoldPointId, OPENING } from "../../domain/trade/hold-points.ts";
import { INSPECTION_IDS, type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { READING_IDS, type ReadingId } from "../../domain/trade/readings.ts";
import type { ByHandId, RoutineId } from "../../domain/trade/routines.ts";
import { id, type StepOptions } from "./schema.ts";

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

export type HandWork =
  | { readonly kind: "hold-point"; readonly points: readonly HoldPointId[] }
  /** Proposed: what the fault model proposes, in its order, then what is always due. Due: only that. Outside: what is due before power. */
  | { readonly kind: "inspect"; readonly looks: LookChoice | readonly InspectionId[] }
  | { readonly kind: "clean"; readonly what: "due" | readonly CleaningId[] }
  | { readonly kind: "reading"; readonly reading: ReadingId };

const LOOK_CHOICES = ["outside", "due", "proposed"] as const;
type LookChoice = (typeof LOOK_CHOICES)[number];

const oneOrMore = <Id extends string>(ids: readonly Id[]) => z.union([z.enum(ids), z.array(z.enum(ids)).min(1)]);
const common = { id };

const POINTS = z.union([z.enum(["opening", "closing"]), oneOrMore(HOLD_POINT_IDS)]);
const LOOKS = z.union([z.enum(LOOK_CHOICES), oneOrMore(INSPECTION_IDS)]);
const CLEANINGS = z.union([z.literal("due"), oneOrMore(CLEANING_IDS)]);
const READING = z.enum(READING_IDS);

/** Transform-free for JSON Schema: the step's kind is the key that carries what is to be done. */
export const HAND_SHAPES = {
  "hold-point": z.strictObject({ "hold-point": POINTS, ...common }),
  inspect: z.strictObject({ inspect: LOOKS, ...common }),
  clean: z.strictObject({ clean: CLEANINGS, ...common }),
  reading: z.strictObject({ reading: READING, ...common }),
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
