import { z } from "zod";
import { FAULT_IDS } from "../diagnosis/model/knowledge/faults.ts";
import { CLEANING_IDS } from "../domain/trade/cleanings.ts";
import { FUNCTION_IDS } from "../domain/trade/functions.ts";
import { INSPECTION_IDS } from "../domain/trade/inspections.ts";
import { READING_IDS } from "../domain/trade/readings.ts";
import { STEP_RESULTS } from "../domain/trade/results.ts";
import { ROUTINE_IDS } from "../domain/trade/routines.ts";
import { reportedSymptom } from "../run/events/event.ts";
import { COUNTER_NAMES } from "../wire/rdm/fixture.ts";

/** Raised when a program that reads an export would misread it. 1 was a bare list of runs. */
export const EXPORT_VERSION = 2;

const when = z.string().describe("ISO 8601, UTC");
const initials = z.string().describe("who did it; empty where nobody said");
const note = z.string();
/** When it was written, and who was at the keys. */
const signed = { at: when, person: z.string().describe("who was at the keys") };

const step = z.strictObject({
  id: z.string(),
  routine: z.enum(ROUTINE_IDS),
  functions: z.array(z.enum(FUNCTION_IDS)).describe("attribute names of DIN SPEC 15800; empty for the whole fixture"),
  attempt: z.int(),
  presses: z.int().describe("of the last attempt"),
  result: z.enum(STEP_RESULTS),
  symptoms: z.array(reportedSymptom),
  note,
  watched: z.enum(["attended", "confirmed", "no"]),
});

const inspection = z.strictObject({
  kind: z.literal("inspected"),
  inspection: z.enum(INSPECTION_IDS),
  answer: z.enum(["good", "bad", "unsure", "not-asked"]),
  note,
  photo: z.string().optional().describe("the name of a picture file"),
  together: z.literal(true).optional().describe("answered with others of the same cover by one key"),
  ...signed,
});

const find = z.strictObject({
  kind: z.literal("found"),
  what: z.enum(["fault", "something-else", "nothing"]),
  fault: z.enum(FAULT_IDS).optional(),
  note,
  ...signed,
});

const repair = z.strictObject({
  kind: z.literal("repaired"),
  what: z.enum(["fault", "something-else"]),
  fault: z.enum(FAULT_IDS).optional(),
  part: z.string().describe("the part used; empty where there was none"),
  minutes: z.number().describe("of work; 0 where nobody said"),
  initials,
  note,
  ...signed,
});

const measurement = z.strictObject({
  kind: z.literal("reading-taken"),
  step: z.string().optional(),
  reading: z.enum(READING_IDS),
  value: z.number().optional(),
  unit: z.string(),
  verdict: z.enum(["within", "outside", "not-taken"]).describe("against the local rule's limit, by whoever took it"),
  initials,
  note,
  ...signed,
});

const cleaned = z.strictObject({
  kind: z.literal("cleaned"),
  cleaning: z.enum(CLEANING_IDS),
  done: z.enum(["done", "not-needed", "left-out"]),
  note,
  ...signed,
});

const photo = z.strictObject({
  kind: z.literal("photo-taken"),
  file: z.string().describe("the name of the picture: SHA-256 of its bytes; `--photos FOLDER` copies the pictures"),
  of: z
    .looseObject({ what: z.enum(["step", "look", "cleaning", "fault", "repair", "fixture"]) })
    .describe("what it shows"),
  ...signed,
});

/** Released, held back, lifted, a second opinion, another kind of fixture. */
const decision = z.looseObject({
  kind: z.enum(["signed-off", "quarantined", "hold-lifted", "second-opinion", "kind-changed"]),
  initials,
  note,
  ...signed,
});

const run = z.strictObject({
  run: z.string(),
  bench: z.string(),
  person: z.string().describe("who opened it"),
  at: when,
  until: when,
  minutes: z.number().describe("at work on it, breaks left out"),
  serial: z.string(),
  universe: z.int(),
  address: z.int(),
  profile: z.string(),
  sequence: z.string(),
  simulated: z.boolean(),
  replays: z.string().optional().describe("the run that it plays again"),
  steps: z.array(step),
  looks: z.array(inspection),
  finds: z.array(find),
  repairs: z.array(repair),
  readings: z.array(measurement),
  cleanings: z.array(cleaned),
  photos: z.array(photo),
  decisions: z.array(decision),
  ended: z.enum(["finished", "stopped", "failed", "abandoned", "open"]),
  counters: z
    .partialRecord(z.enum(COUNTER_NAMES), z.number())
    .optional()
    .describe("what the fixture counted, as it said"),
  hire: z.string().describe("what it came back from; empty when nobody said"),
  aside: z.looseObject({ why: z.string(), note }).optional().describe("set aside, and not touched since"),
});

/** What `limber export --json` writes: every run of the journal, oldest first, after all corrections. */
export const exportFile = z.strictObject({
  limber_export: z.literal(EXPORT_VERSION),
  runs: z.array(run),
});
