import { z } from "zod";
import { FUNCTION_IDS } from "../../domain/trade/functions.ts";
import { ROUTINE_IDS, STEP_RESULTS } from "../../domain/trade/routines.ts";
import { SYMPTOM_IDS } from "../../domain/trade/symptoms.ts";
import { BY_HAND_BODIES } from "./by-hand.ts";
import { FIXTURE_SAID_BODIES } from "./fixture-said.ts";
import { INTERFACE_BODIES } from "./interface-met.ts";
import { RACK_EVENTS } from "./rack-event.ts";
import { text } from "./text.ts";

/**
 * All that may be written in the journal. Events are never changed: a correction is a new event. Names and shapes are
 * versioned by `v` in the envelope; a reader refuses a version above its own.
 */
export const EVENT_VERSION = 4;

const functionId = z.enum(FUNCTION_IDS);

/** Which attempt at which step an event speaks of. */
const stepRef = { step: text, attempt: z.int().positive() };

export const reportedSymptom = z.strictObject({
  symptom: z.enum(SYMPTOM_IDS).describe("what was seen or heard"),
  function: functionId.optional().describe("the function it was seen on; absent for the fixture as a whole"),
});

const raw = z.int().nonnegative();
const frame = z.int().nonnegative();

/** A compiled step, enough to send the same frames again (StoredStep of the timeline), and the SHA-256 of those frames. */
const plannedStep = z.strictObject({
  id: text,
  routine: z.enum(ROUTINE_IDS),
  functions: z.array(functionId),
  fitted: z.boolean(),
  watch: text,
  frames: frame,
  lead_in: frame,
  start: z.array(z.tuple([functionId, raw])),
  moves: z.array(z.tuple([functionId, raw, raw, frame, frame])),
  beam: z.enum(["open", "shut"]),
  notes: z.array(text),
  line: z.int().nonnegative(),
  /** Empty for a step that is not fitted. */
  fingerprint: text,
});

const runOpened = z.strictObject({
  kind: z.literal("run-opened"),
  fixture: z.strictObject({ serial: text, universe: z.int().positive(), address: z.int().positive() }),
  /** Names and whole texts, so that the run can be played again when today's files differ. */
  profile: z.strictObject({ name: text, text }),
  sequence: z.strictObject({ name: text, text }),
  bench: z.strictObject({ name: text, text }),
  steps: z.array(plannedStep),
  output: text,
  simulated: z.boolean(),
  /** Faults set in the simulated fixture. */
  set: z.array(text),
  mode: z.enum(["attended", "hands-off"]),
  /** The run whose timelines this one plays again. */
  replays: text.optional(),
  /** It was begun to do what was still to be done before a signature: work by hand comes first, whatever its sequence says. */
  finishing: z.literal(true).optional(),
  /** The rack run that it is part of. */
  rack: text.optional(),
  /** What the fixture came back from, where the shift it was played in has a name. */
  hire: text.optional(),
});

/** A step that was decided on in the course of the run: its place is after all others. */
const stepAdded = z.strictObject({ kind: z.literal("step-added"), step: plannedStep });

const stepStarted = z.strictObject({
  kind: z.literal("step-started"),
  ...stepRef,
  pace: z.number().positive(),
  /** The step as it was compiled for this attempt, where that is not as planned. */
  played: plannedStep.optional(),
});
const pressed = z.strictObject({
  kind: z.literal("pressed"),
  ...stepRef,
  /** The frame of the step that was out when the key came, and the seconds since the step began on the run's clock. */
  frame: z.int(),
  after_s: z.number(),
  /** It came over the air: how far off that may be either way. */
  give_s: z.number().nonnegative().optional(),
});

/** Undoes the last press of an attempt: the wrong key, or another fixture's letter. */
const pressCorrected = z.strictObject({ kind: z.literal("press-corrected"), ...stepRef });

const stepJudged = z.strictObject({
  kind: z.literal("step-judged"),
  ...stepRef,
  result: z.enum(STEP_RESULTS),
  symptoms: z.array(reportedSymptom),
  note: text,
  /** Attended: answered at this step. Confirmed: silence in a hands-off group, confirmed afterwards by the person who was there. */
  watched: z.enum(["attended", "confirmed", "no"]),
  /** What may matter to the fault: minutes since the light came on, head attitude, minutes on watch. */
  lit_min: z.number().nonnegative(),
  attitude: z.enum(["standing", "hung"]),
  on_watch_min: z.number().nonnegative(),
  /** The computer's own conduct during the step. */
  rig: z.strictObject({ worst_late_s: z.number(), dropped: z.int().nonnegative(), lost: z.boolean() }),
});

/** What a simulated fixture gave to be noticed in an attempt, and from which frames on: in practice alone, where it can be known. */
const shown = z.strictObject({
  kind: z.literal("shown"),
  ...stepRef,
  frames: z.array(frame),
  symptoms: z.array(z.enum(SYMPTOM_IDS)),
});

/** Undoes the last judgement of a step: it counts as if not yet given. */
const stepCorrected = z.strictObject({ kind: z.literal("step-corrected"), ...stepRef });

/** What a person or the world changed in the course of a run. */
const courseChanged = z.strictObject({
  kind: z.literal("course-changed"),
  ...stepRef,
  frame: z.int(),
  what: z.enum([
    "frozen",
    "went-on",
    "away",
    "back-again",
    "slower",
    "repeated",
    "gone-back",
    "stopped",
    "line-lost",
    "line-back",
    "resumed",
    "returned",
    "nudged",
  ]),
  detail: text,
});

/** What moved instead of what was asked: the answers of `identify`. */
const identified = z.strictObject({ kind: z.literal("identified"), asked: text, answer: text, conclusion: text });

const runClosed = z.strictObject({
  kind: z.literal("run-closed"),
  how: z.enum(["finished", "stopped", "failed", "abandoned"]),
});

const eventBody = z.discriminatedUnion("kind", [
  runOpened,
  stepAdded,
  stepStarted,
  pressed,
  pressCorrected,
  stepJudged,
  stepCorrected,
  shown,
  courseChanged,
  identified,
  ...BY_HAND_BODIES,
  ...FIXTURE_SAID_BODIES,
  ...INTERFACE_BODIES,
  runClosed,
  ...RACK_EVENTS,
]);

export const runEvent = z.strictObject({
  id: text,
  v: z.int().positive(),
  bench: text,
  person: text,
  /** ISO 8601, UTC. */
  at: text,
  run: text,
  body: eventBody,
});

export type EventBody = z.infer<typeof eventBody>;
export type EventKind = EventBody["kind"];
export type BodyOf<K extends EventKind> = Extract<EventBody, { kind: K }>;
export type RunEvent = z.infer<typeof runEvent>;
export type ReportedSymptom = z.infer<typeof reportedSymptom>;
