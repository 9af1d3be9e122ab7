/**
 * What a stage says of the people round the fixtures. "hands": somebody may be at one or in its swing. "eyes": they look at
 * the screen, and after a minute without a key nobody knows where they are. "moves": something moves, and whoever is there watches.
 */
type Whereabouts = "hands" | "eyes" | "moves";

/** What becomes of a stage when nothing could be sent for a second or more. */
type AtStandstill =
  /** There is no line: nothing was to be sent, and nobody can be asked anything over it. */
  | "nothing"
  /** What is looked at alone says it by its own stage. */
  | "its own"
  /** The question stays; before anything moves the area is asked about again. */
  | "doubt"
  /** What moved stands dark, and its step starts again after the hold point. */
  | "halt"
  /** Hands are at work, and nothing is sent that could be late. */
  | "by hand";

interface StageRule {
  readonly people: Whereabouts;
  readonly standstill: AtStandstill;
}

/** Every stage that a run can be in, of one fixture or of a rack, and what is true in it for both. */
export const STAGES = {
  opening: { people: "eyes", standstill: "nothing" },
  holding: { people: "eyes", standstill: "doubt" },
  "slow-start": { people: "moves", standstill: "halt" },
  moving: { people: "moves", standstill: "halt" },
  asking: { people: "eyes", standstill: "doubt" },
  which: { people: "eyes", standstill: "doubt" },
  confirming: { people: "eyes", standstill: "doubt" },
  stirring: { people: "moves", standstill: "halt" },
  "what-moved": { people: "eyes", standstill: "doubt" },
  // At its panel a setting is put right.
  "setting-found": { people: "hands", standstill: "doubt" },
  // Being worked out while nobody has anything to do.
  diagnosing: { people: "eyes", standstill: "doubt" },
  placed: { people: "eyes", standstill: "doubt" },
  "at-spot": { people: "moves", standstill: "halt" },
  // What is offered may be an inspection, and it is walked up to.
  "what-next": { people: "hands", standstill: "doubt" },
  "by-hand": { people: "hands", standstill: "by hand" },
  // Between the group and the fixtures that differed.
  between: { people: "hands", standstill: "doubt" },
  // At its panel, or at the data cables of all others.
  "own-address": { people: "hands", standstill: "doubt" },
  // That fixture's own session says the rest.
  alone: { people: "moves", standstill: "its own" },
  // Halted, and not for how long: that is what one halts for. In a rack fixtures are taken out and put in.
  paused: { people: "hands", standstill: "doubt" },
  "line-lost": { people: "hands", standstill: "nothing" },
  // Cables are looked at and changed.
  "other-interface": { people: "hands", standstill: "nothing" },
  finished: { people: "hands", standstill: "nothing" },
} as const satisfies Readonly<Record<string, StageRule>>;

export type StageKind = keyof typeof STAGES;

/** Whether something could be sent in this stage: where nothing could, no fixture is asked anything either. */
export const hasLine = (stage: StageKind): boolean => STAGES[stage].standstill !== "nothing";
