import { z } from "zod";
import { FAULT_IDS } from "../../diagnosis/model/knowledge/faults.ts";
import { CLEANING_IDS } from "../../domain/trade/cleanings.ts";
import { INSPECTION_IDS } from "../../domain/trade/inspections.ts";
import { text } from "./text.ts";

/** The name of a kept picture: the SHA-256 of its bytes, and what kind of picture it is. */
export const PHOTO_FILE = /^[0-9a-f]{64}\.(?:jpg|png)$/;

/** A picture lies in the journal's folder under its name; what it shows. */
const photoTaken = z.strictObject({
  kind: z.literal("photo-taken"),
  file: z.string().regex(PHOTO_FILE),
  of: z.discriminatedUnion("what", [
    z.strictObject({ what: z.literal("step"), step: text, attempt: z.int().positive() }),
    z.strictObject({ what: z.literal("look"), inspection: z.enum(INSPECTION_IDS) }),
    z.strictObject({ what: z.literal("cleaning"), cleaning: z.enum(CLEANING_IDS) }),
    /** What was found to be wrong. */
    z.strictObject({ what: z.literal("fault") }),
    z.strictObject({ what: z.literal("repair"), fault: z.enum(FAULT_IDS).optional() }),
    z.strictObject({ what: z.literal("fixture") }),
  ]),
});

export const PHOTO_EVENTS = [photoTaken] as const;
