import { z } from "zod";
import { FAULT_IDS } from "../../diagnosis/model/knowledge/faults.ts";
import { CLEANING_IDS, DIRT_IDS } from "../../domain/trade/cleanings.ts";
import { COVER_IDS } from "../../domain/trade/hold-points.ts";
import { INSPECTION_IDS, SAFETY_INSPECTIONS } from "../../domain/trade/inspections.ts";
import { READING_IDS } from "../../domain/trade/readings.ts";
import { someText, text } from "./text.ts";

/** What may be written of work by hand. Who did it and when stands in the envelope of every event. */

/** The step of the sequence that asked for it; absent when it was done between steps or between runs. */
const forStep = { step: text.optional() };

/** What a level of release asked for (`data/shop/shop.ts`). */
const need = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("sequence"), name: someText }),
  z.strictObject({ kind: z.literal("inspection"), name: z.enum(INSPECTION_IDS) }),
  z.strictObject({ kind: z.literal("measurement"), name: z.enum(READING_IDS) }),
  z.strictObject({ kind: z.literal("cover"), name: z.enum(COVER_IDS) }),
  z.strictObject({ kind: z.literal("full"), name: z.literal("check") }),
]);

const holdConfirmed = z.strictObject({ kind: z.literal("hold-confirmed"), point: text, ...forStep });

/** Undoes the last confirmation of this point: it was a slip, and counts as not given. */
const holdWithdrawn = z.strictObject({ kind: z.literal("hold-withdrawn"), point: text });

/** An inspection, after its hold points. */
const inspected = z.strictObject({
  kind: z.literal("inspected"),
  inspection: z.enum(INSPECTION_IDS),
  answer: z.enum(["good", "bad", "unsure", "not-asked"]),
  note: text,
  /** The name of a file that shows it; the picture itself stays where it is. */
  photo: text.optional(),
  /** Answered for together with others of the same cover. */
  together: z.literal(true).optional(),
});

/** How dirty it came back. */
const dirtJudged = z.strictObject({ kind: z.literal("dirt-judged"), dirt: z.enum(DIRT_IDS) });

/** Undoes the answer that was written just before: it counts as if not yet given. */
const inspectionCorrected = z.strictObject({
  kind: z.literal("inspection-corrected"),
  inspection: z.enum(INSPECTION_IDS),
});

/** The same of cleaning, and of a measurement. */
const cleaningCorrected = z.strictObject({
  kind: z.literal("cleaning-corrected"),
  cleaning: z.enum(CLEANING_IDS),
});
const readingCorrected = z.strictObject({ kind: z.literal("reading-corrected"), reading: z.enum(READING_IDS) });

const cleaned = z.strictObject({
  kind: z.literal("cleaned"),
  cleaning: z.enum(CLEANING_IDS),
  /** Not needed: with dust only, where the torch showed no film. */
  done: z.enum(["done", "not-needed", "left-out"]),
  note: text,
});

/** The value in the unit of `trade/readings.ts`; whether it is within the local rule's limit is the competent person's word. */
const readingTaken = z.strictObject({
  kind: z.literal("reading-taken"),
  ...forStep,
  reading: z.enum(READING_IDS),
  value: z.number().optional(),
  unit: text,
  verdict: z.enum(["within", "outside", "not-taken"]),
  /** Initials of the competent person; empty when nothing was taken, and when the fixture said it. */
  initials: text,
  note: text,
  /** The fixture itself said it, over RDM: nobody typed it. */
  source: z.literal("fixture").optional(),
});

/** What turned out to be wrong: a fault of the knowledge, something else in words, or nothing. */
const found = z.discriminatedUnion("what", [
  z.strictObject({ kind: z.literal("found"), what: z.literal("fault"), fault: z.enum(FAULT_IDS), note: text }),
  z.strictObject({ kind: z.literal("found"), what: z.literal("something-else"), note: text }),
  z.strictObject({ kind: z.literal("found"), what: z.literal("nothing"), note: text }),
]);

const mended = { part: text, minutes: z.number().nonnegative(), initials: someText, note: text };
/** A fault was repaired, or something else that the note names. */
const repaired = z.discriminatedUnion("what", [
  z.strictObject({ kind: z.literal("repaired"), what: z.literal("fault"), fault: z.enum(FAULT_IDS), ...mended }),
  z.strictObject({ kind: z.literal("repaired"), what: z.literal("something-else"), ...mended }),
]);

/** Counts only when nothing stood against it at that moment; the rules are in `release/`. */
const signedOff = z.strictObject({
  kind: z.literal("signed-off"),
  initials: someText,
  note: text,
  /** The shop's level, and what it asked for at this return; absent for the full check. */
  level: z.strictObject({ name: someText, due: z.array(need) }).optional(),
});

/** Held back, with everything that stood against it and a person's own words. */
const quarantined = z.strictObject({
  kind: z.literal("quarantined"),
  reasons: z.array(text),
  initials: text,
  note: text,
});

/** Only a person lifts what is held back, and says why. */
const holdLifted = z.strictObject({ kind: z.literal("hold-lifted"), initials: someText, note: someText });

/** Somebody else looked as well, and takes a danger for none: who, and why. A good answer must follow. */
const secondOpinion = z.strictObject({
  kind: z.literal("second-opinion"),
  about: z.enum([...SAFETY_INSPECTIONS, "electrical-safety"]),
  initials: someText,
  note: someText,
});

/** The serial number stands on another kind of fixture than before; somebody was asked and said why. */
const kindChanged = z.strictObject({
  kind: z.literal("kind-changed"),
  from: text,
  to: text,
  initials: text,
  note: text,
});

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

/** Why a fixture is set aside in the middle of its work. */
export const ASIDE_REASONS = ["part", "cooling", "other"] as const;
export type AsideReason = (typeof ASIDE_REASONS)[number];
export const ASIDE_WORDS: Readonly<Record<AsideReason, string>> = {
  part: "waiting for a part",
  cooling: "cooling",
  other: "set aside",
};

/** Written in the fixture's own run; whatever is written there afterwards takes it up again. */
const setAside = z.strictObject({ kind: z.literal("set-aside"), why: z.enum(ASIDE_REASONS), note: text });

export const BY_HAND_BODIES = [
  holdConfirmed,
  holdWithdrawn,
  inspected,
  dirtJudged,
  inspectionCorrected,
  cleaned,
  cleaningCorrected,
  readingTaken,
  readingCorrected,
  found,
  repaired,
  signedOff,
  quarantined,
  holdLifted,
  secondOpinion,
  kindChanged,
  photoTaken,
  setAside,
] as const;
export type ByHandBody = z.infer<(typeof BY_HAND_BODIES)[number]>;
