import { z } from "zod";
import { text } from "./text.ts";

/** What a rack run writes of itself; what came of each fixture stands in that fixture's own run. */

/** A fixture and the name of its run. */
const member = { serial: text, run: text };

const rackOpened = z.strictObject({
  kind: z.literal("rack-opened"),
  /** Name and whole text of the rack file. */
  rack: z.strictObject({ name: text, text }),
  /** Every profile by the name that the rack file gives it. */
  profiles: z.array(z.strictObject({ name: text, text })),
  /** In the order of the rack file. */
  members: z.array(z.strictObject(member)),
  simulated: z.boolean(),
});

/** These fixtures are watched together from now on. */
const groupStarted = z.strictObject({ kind: z.literal("group-started"), group: text, serials: z.array(text) });

const fixtureWithdrawn = z.strictObject({ kind: z.literal("fixture-withdrawn"), ...member, why: text });

/** Another fixture stands in its place, at its address. */
const fixtureSwapped = z.strictObject({ kind: z.literal("fixture-swapped"), ...member, by: z.strictObject(member) });

/** A ganged fixture was given an address of its own. */
const addressSet = z.strictObject({
  kind: z.literal("address-set"),
  ...member,
  universe: z.int().positive(),
  address: z.int().positive(),
});

const rackCourse = z.strictObject({
  kind: z.literal("rack-course"),
  what: z.enum(["paused", "went-on", "line-lost", "line-back", "went-on-without", "second-pass"]),
  detail: text,
});

/** One fixture was asked to move at its address, and these did. */
const whoMoved = z.strictObject({ kind: z.literal("who-moved"), ...member, moved: z.array(text) });

/** Somebody pressed for one of these, and the step was left before it was said which. */
const pressUnnamed = z.strictObject({
  kind: z.literal("press-unnamed"),
  step: text,
  serials: z.array(text),
  presses: z.int().positive(),
});

export const RACK_EVENTS = [
  rackOpened,
  groupStarted,
  fixtureWithdrawn,
  fixtureSwapped,
  addressSet,
  rackCourse,
  whoMoved,
  pressUnnamed,
] as const;
