import { dirname, join } from "node:path";
import { z } from "zod";
import { readPrivate, writePrivate } from "../../io/files/outside.ts";

/** What a shift has in common from fixture to fixture, remembered beside the journal until it is said anew. */
const settings = z.strictObject({
  person: z.string(),
  bench: z.string(),
  output: z.string(),
  to: z.string().optional(),
  sequence: z.string(),
  /** What the fixtures came back from; empty when nobody said. */
  hire: z.string(),
  /** Serial numbers that belong to the hire, as far as somebody listed them. */
  expected: z.array(z.string()),
});
export type ShiftSettings = z.infer<typeof settings>;

const NEW_SHIFT: ShiftSettings = {
  person: "",
  bench: "bench",
  output: "",
  sequence: "quick",
  hire: "",
  expected: [],
};

/** The settings of the last shift with this journal; what cannot be read is as if nothing had been remembered. */
export const rememberedShift = (journal: string): ShiftSettings => {
  const text = readPrivate(placeOf(journal));
  if (text === undefined) return NEW_SHIFT;
  try {
    const read = settings.safeParse(JSON.parse(text));
    return read.success ? read.data : NEW_SHIFT;
  } catch {
    return NEW_SHIFT;
  }
};

/** Keeps the settings of a shift for the next one. Undefined when they were written; else why not, in words. */
export const rememberShift = (journal: string, shift: ShiftSettings): string | undefined =>
  writePrivate(placeOf(journal), `${JSON.stringify(shift, undefined, 2)}\n`);

const placeOf = (journal: string): string => join(dirname(journal), "shift.json");
