import { keysOf } from "../keys.ts";

/** The driven routines: keys of sequence files, with the words a technician hears. */
export const ROUTINES = {
  identify: { words: "small wiggle and a slow dip", watch: "the right fixture moves, and the right way" },
  "power-up": {
    words: "power up",
    watch: "every function finds its home at the first try, no grinding, no error, the light comes",
  },
  home: { words: "reset", watch: "every function finds its home at the first try, no grinding, no error" },
  sweep: { words: "full sweep", watch: "even, quiet travel to both ends" },
  "short-sweep": {
    words: "sweep short of both ends",
    watch: "even, quiet travel; presses here cannot come from the ends",
  },
  stopwatch: { words: "timed from end to end", watch: "press at the moment it stands still, each time" },
  "step-through": { words: "step through all positions", watch: "each position is the right one, centred, at once" },
  rotate: { words: "turn slow and fast, both ways", watch: "turns evenly, without wobble or ticking" },
  "in-and-out": { words: "in and out", watch: "fully in, fully out, each time" },
  backlash: { words: "backlash test", watch: "stops at the same position from both sides" },
  snap: { words: "jump and back", watch: "stops dead, comes back to the same place" },
  shake: { words: "short hard jolts", watch: "nothing drops out, nothing shifts" },
  "side-by-side": { words: "the same on all fixtures", watch: "one that differs from the others" },
  hold: { words: "stand still", watch: "no drift, no hunting, no flicker" },
  soak: { words: "keep running", watch: "nothing changes as it warms" },
  return: { words: "reset and back to the first picture", watch: "the picture is where it was" },
  "self-test": {
    words: "its own test",
    watch: "every function finds its home at the first try, no grinding, no error",
  },
} as const;

export type RoutineId = keyof typeof ROUTINES;
export const ROUTINE_IDS = keysOf(ROUTINES);

/** Those that a sequence file can ask for. Which tests a fixture has of its own, only the fixture can tell: they are offered in a run. */
export type WrittenRoutineId = Exclude<RoutineId, "self-test">;
export const WRITTEN_ROUTINE_IDS = ROUTINE_IDS.filter((id): id is WrittenRoutineId => id !== "self-test");

/** What can come of a step. Only pass, fail and unsure say something about the fixture. */
export const RESULTS = {
  pass: "pass",
  fail: "fail",
  unsure: "unsure",
  "not-watched": "not watched",
  "not-fitted": "not fitted",
  "not-asked": "not asked",
  /** The computer itself misbehaved (late or lost frames): says nothing about the fixture, to be repeated. */
  repeat: "to be repeated",
} as const;

export type StepResult = keyof typeof RESULTS;
export const STEP_RESULTS = keysOf(RESULTS);

/** What a sequence can ask for by hand between its movements: keys of sequence files, with the words a technician hears. Common practice, no source. */
const BY_HAND = {
  "hold-point": "hold point",
  inspect: "inspection",
  clean: "clean",
  reading: "measure",
} as const;

export type ByHandId = keyof typeof BY_HAND;
export const BY_HAND_IDS = keysOf(BY_HAND);
