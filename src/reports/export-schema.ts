import { z } from "zod";
import { FAULT_IDS } from "../diagnosis/model/knowledge/faults.ts";
import { CLEANING_IDS } from "../domain/trade/cleanings.ts";
import { FUNCTION_IDS } from "../domain/trade/functions.ts";
import { INSPECTION_IDS } from "../domain/trade/inspections.ts";
import { READING_IDS } from "../domain/trade/readings.ts";
import { ROUTINE_IDS, STEP_RESULTS } from "../domain/trade/routines.ts";
import { reportedSymptom } from "../run/events/event.ts";
import { COUNTER_NAMES } from "../wire/rdm/fixture.ts";

/** Raised when a program that reads an export would misread it. 1 was a bare list of runs. */
export const EXPORT_VERSION = 2;

const initials = z.string().describe("who did it; empty where nobody said");
const note = z.string().describe("in a person's own words; empty where nobody wrote any");
const kind = <const K extends string>(name: K) => z.literal(name).describe("what was written down");
const fault = z
  .enum(FAULT_IDS)
  .optional()
  .describe('the fault, as "limber faults" lists it; absent where it has no name there');
/** When it was written, and who was at the keys. */
const signed = {
  at: z.string().describe("when it was written: ISO 8601, UTC"),
  person: z.string().describe("who was at the keys"),
};

const step = z.strictObject({
  id: z.string().describe("its name in the sequence"),
  routine: z.enum(ROUTINE_IDS).describe("how it moved"),
  functions: z.array(z.enum(FUNCTION_IDS)).describe("attribute names of DIN SPEC 15800; empty for the whole fixture"),
  attempt: z.int().describe("how often it was played; the last counts"),
  presses: z.int().describe("of the last attempt"),
  result: z.enum(STEP_RESULTS).describe("what came of it, after corrections"),
  symptoms: z.array(reportedSymptom).describe("what was seen or heard, in the order in which it was named"),
  note,
  watched: z
    .enum(["attended", "confirmed", "no"])
    .describe("answered by itself; silence, confirmed afterwards by whoever watched; or not watched"),
});

const inspection = z.strictObject({
  kind: kind("inspected"),
  inspection: z.enum(INSPECTION_IDS).describe("what was inspected"),
  answer: z.enum(["good", "bad", "unsure", "not-asked"]).describe("how it was; not-asked: not inspected"),
  note,
  photo: z.string().optional().describe("the name of a picture file"),
  together: z.literal(true).optional().describe("answered with others of the same cover by one key"),
  ...signed,
});

const find = z.strictObject({
  kind: kind("found"),
  what: z.enum(["fault", "something-else", "nothing"]).describe("a known fault, one in words, or no fault found"),
  fault,
  note,
  ...signed,
});

const repair = z.strictObject({
  kind: kind("repaired"),
  what: z.enum(["fault", "something-else"]).describe("the repair of a known fault, or of one in words"),
  fault,
  part: z.string().describe("the part used; empty where there was none"),
  minutes: z.number().describe("of work; 0 where nobody said"),
  initials,
  note,
  ...signed,
});

const measurement = z.strictObject({
  kind: kind("reading-taken"),
  step: z.string().optional().describe("the step of the sequence that asked for it"),
  reading: z.enum(READING_IDS).describe("what was measured or read"),
  value: z.number().optional().describe("in `unit`; absent where none was typed"),
  unit: z.string().describe("of the value; empty for a test that has none"),
  verdict: z.enum(["within", "outside", "not-taken"]).describe("against the local rule's limit, by whoever took it"),
  initials,
  note,
  ...signed,
});

const cleaned = z.strictObject({
  kind: kind("cleaned"),
  cleaning: z.enum(CLEANING_IDS).describe("the place"),
  done: z
    .enum(["done", "not-needed", "left-out"])
    .describe("cleaned; inspected by torch and without a film; or left out"),
  note,
  ...signed,
});

const photo = z.strictObject({
  kind: kind("photo-taken"),
  file: z.string().describe("the name of the picture: SHA-256 of its bytes; `--photos FOLDER` copies the pictures"),
  of: z
    .looseObject({
      what: z.enum(["step", "look", "cleaning", "fault", "repair", "fixture"]).describe("what kind of thing it shows"),
    })
    .describe("what it shows"),
  ...signed,
});

/** Released, held back, lifted, a second opinion, another kind of fixture. */
const decision = z.looseObject({
  kind: z
    .enum(["signed-off", "quarantined", "hold-lifted", "second-opinion", "kind-changed"])
    .describe(
      "released, held back, the hold lifted, a second opinion on a danger, another kind of fixture under this serial",
    ),
  initials,
  note,
  ...signed,
});

const run = z.strictObject({
  run: z.string().describe("its name, which commands take"),
  bench: z.string().describe("the name of the bench: of the computer it was written at"),
  person: z.string().describe("who opened it"),
  at: z.string().describe("when it began: ISO 8601, UTC"),
  until: z.string().describe("when the last thing was written to it: ISO 8601, UTC"),
  minutes: z.number().describe("at work on it, breaks left out"),
  serial: z.string().describe("the fixture's serial number"),
  universe: z.int().describe("its DMX universe"),
  address: z.int().describe("its first slot, from 1"),
  profile: z.string().describe("the kind of fixture and its mode"),
  sequence: z.string().describe("the test plan"),
  simulated: z.boolean().describe("true: a simulated fixture, no real one"),
  replays: z.string().optional().describe("the run that it plays again"),
  steps: z.array(step).describe("everything that was driven, in the order of the plan"),
  looks: z.array(inspection).describe("inspections, in the order of writing"),
  finds: z.array(find).describe("faults that were found by hand"),
  repairs: z.array(repair).describe("repairs, with minutes and initials"),
  readings: z.array(measurement).describe("measurements, with who answers for them"),
  cleanings: z.array(cleaned).describe("places that were cleaned or left out"),
  photos: z.array(photo).describe("pictures that were taken"),
  decisions: z.array(decision).describe("releases, holds and opinions, with who answers for them"),
  ended: z.enum(["finished", "stopped", "failed", "abandoned", "open"]).describe("how it ended; open: it has not"),
  counters: z
    .partialRecord(z.enum(COUNTER_NAMES), z.number())
    .optional()
    .describe("what the fixture counted, as it said"),
  hire: z.string().describe("what it came back from; empty when nobody said"),
  aside: z
    .looseObject({ why: z.string().describe("for what it waits"), note })
    .optional()
    .describe("set aside, and not touched since"),
});

/** What `limber export --json` writes: every run of the journal, oldest first, after all corrections. */
export const exportFile = z.strictObject({
  limber_export: z.literal(EXPORT_VERSION).describe("the version of this form: raised when a reader would misread it"),
  runs: z.array(run).describe("every run of the journal, oldest first"),
});
