import type { FunctionSpec, Profile } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";

/** The two parts of a proof, as sequence files: ordinary steps, played with all the usual cautions. */

/**
 * The first part of a verification as the text of a sequence: each function alone, a
 * little and slowly, to see what it moves.
 */
export const firstPart = (profile: Profile): string =>
  sequence(
    "proof-moves",
    `What moves: ${profile.title}`,
    provable(profile).map(([id]) => `{ identify: ${id} }`),
  );

/**
 * The second part of a verification as the text of a sequence: each function from end to end, to see whether it reaches
 * what the profile names, and in what time. Undefined when nothing goes as far.
 */
export const secondPart = (profile: Profile): string | undefined => {
  const steps = provable(profile).flatMap(([id, spec]) => stepFor(id, spec));
  return steps.length === 0 ? undefined : sequence("proof-ends", `From end to end: ${profile.title}`, steps);
};

/**
 * Only the movements that are timed, as the text of a sequence: axes and lenses by the stopwatch, then wheel by wheel from
 * position to position. Undefined when the fixture has none of them.
 */
export const timesPart = (profile: Profile): string | undefined => {
  const steps = provable(profile).flatMap(([id, spec]) => {
    if (spec.kind === "wheel") return [`{ step-through: ${id}, longest_hops: true, dwell_s: 1.2 }`];
    return spec.kind === "travel" && TIMED.includes(id) ? [`{ stopwatch: ${id}, passes: 4 }`] : [];
  });
  return steps.length === 0 ? undefined : sequence("proof-times", `By the stopwatch: ${profile.title}`, steps);
};

/** What takes long enough to be timed by hand, and is missed when it is slow. */
const TIMED: readonly FunctionId[] = ["Pan", "Tilt", "Zoom", "Focus1", "Iris"];

/** A control slot is never tried out: it could put the lamp out or reset the fixture. */
const provable = ({ functions }: Profile): readonly (readonly [FunctionId, FunctionSpec])[] =>
  [...functions].filter(([, spec]) => spec.kind !== "commands");

const sequence = (name: string, title: string, steps: readonly string[]): string =>
  [`sequence: ${name}`, `title: ${JSON.stringify(title)}`, "steps:", ...steps.map((step) => `  - ${step}`), ""].join(
    "\n",
  );

/** It may take twice as long as the profile says, and the person wants to see it stand still. */
const stepFor = (id: FunctionId, spec: FunctionSpec): readonly string[] => {
  if (spec.kind === "travel")
    return id.startsWith("ColorAdd_")
      ? []
      : [`{ in-and-out: ${id}, times: 2, dwell_s: ${round(spec.fullTravel + 1.5)} }`];
  if (spec.kind === "wheel") return [`{ step-through: ${id}, dwell_s: 1.2 }`];
  if (spec.kind !== "banded") return [];
  if (spec.bands.some(({ is }) => is === "turn")) return [`{ rotate: ${id}, index_s: 1, slow_s: 4, fast_s: 2 }`];
  return spec.bands.some(({ is }) => is === "open" || is === "in")
    ? [`{ in-and-out: ${id}, times: 2, dwell_s: 1 }`]
    : [];
};

const round = (seconds: number): number => Math.round(seconds * 10) / 10;

/** Which slots each function listens to, coarse first: as a profile says, or as it may really be. */
export type SlotMap = ReadonlyMap<FunctionId, readonly number[]>;

/** Which function moves on which slots, coarse first, as the profile says. */
export const slotsOf = ({ functions }: Profile): SlotMap =>
  new Map([...functions].map(([id, { slots }]) => [id, slots] as const));

/** One answer to "what moved?": which function was asked to move, and what did. */
export interface SlotMoved {
  readonly asked: FunctionId;
  readonly moved: FunctionId | "nothing";
}

/**
 * How many answers do not fit `real` being how it really is. Only the coarse slot is moved a little; a
 * fine one moves nothing that can be seen.
 */
export const contradictions = (told: SlotMap, real: SlotMap, answers: readonly SlotMoved[]): number =>
  answers.filter(({ asked, moved }) => {
    const coarse = told.get(asked)?.[0];
    const hearing = [...real].filter(([, slots]) => slots[0] === coarse).map(([id]) => id);
    return moved === "nothing" ? hearing.length > 0 : !hearing.includes(moved);
  }).length;
