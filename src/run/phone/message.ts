import { z } from "zod";

/** What a phone says to Limber and what it is shown, as they go over the air. Whatever comes is checked here before anybody believes it. */

const at = z.number().finite().nonnegative();
const short = z.string().max(200);
/** Which page it answers, as that page said. */
const drawn = z.int().nonnegative();

/** One thing said: `id` counts up, so that a message that is sent twice counts once; `at` is the phone's own clock, in milliseconds. */
const said = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("press"), id: z.int().positive(), at, drawn }),
  z.strictObject({ kind: z.literal("again"), id: z.int().positive(), at, drawn }),
  z.strictObject({ kind: z.literal("stop"), id: z.int().positive(), at, drawn }),
  /** The answer at this place in the list of the page. */
  z.strictObject({ kind: z.literal("answer"), id: z.int().positive(), at, drawn, choice: z.int().min(0).max(200) }),
  /** The answer of its own that a guarded page wants. */
  z.strictObject({ kind: z.literal("guarded"), id: z.int().positive(), at, drawn }),
  z.strictObject({ kind: z.literal("fill"), id: z.int().positive(), at, drawn, what: short, text: short }),
  /** A finger on the page: somebody is there. */
  z.strictObject({ kind: z.literal("here"), id: z.int().positive(), at, drawn }),
]);
export type PhoneSaid = z.infer<typeof said>;

/** Which run of the phone's own clock: a phone that slept begins another. */
const era = z.int().nonnegative();
export const saying = z.strictObject({ era, said: z.array(said).max(100) });

/** A round trip begins; when the answer to the one before came back rides along. */
export const ping = z.strictObject({
  era,
  sent: at,
  before: z.strictObject({ sent: at, back: at }).optional(),
});

export const pairing = z.strictObject({ secret: z.string().max(64) });

/** A sentence on the page. */
export interface PhoneLine {
  readonly text: string;
  readonly look: "plain" | "strong" | "faint" | "alert";
}

/** How far along its travel something is commanded to be, and of a simulated fixture where it is; 0 to 1. */
export interface PhoneStrip {
  readonly label: string;
  readonly commanded: number | undefined;
  readonly actual: number | undefined;
  readonly words: string;
}

interface PhoneAnswer {
  readonly words: string;
  readonly look: "plain" | "chosen";
}

/** Something to write down, to scan or to photograph. */
export interface PhoneField {
  readonly what: string;
  readonly words: string;
  readonly by: "letters" | "digits" | "scan" | "photo";
  /** What has been filled in so far. */
  readonly text: string;
}

/** All that the page on the phone shows in one moment. */
export interface PhonePage {
  /** Counts the pages that ask or offer something else: an answer names it. */
  readonly drawn: number;
  readonly moving: "moves" | "stands";
  /** Which fixture, and that it is simulated. */
  readonly where: string;
  readonly step: string;
  readonly headline: string;
  readonly lines: readonly PhoneLine[];
  readonly strips: readonly PhoneStrip[];
  /** Words on the buttons that can be pressed now; empty where there is nothing to press for. */
  readonly press: string;
  readonly again: string;
  readonly stop: string;
  /** The answer of its own that a page wants before something moves or has power; empty on any other page. */
  readonly guarded: string;
  readonly answers: readonly PhoneAnswer[];
  readonly fields: readonly PhoneField[];
}
