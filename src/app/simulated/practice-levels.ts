import { chanceFrom, seedFor } from "../../sim/chance.ts";

/** How hard it is to notice what is hidden. */
export const LEVELS = ["easy", "middling", "hard"] as const;
export type PracticeLevel = (typeof LEVELS)[number];

/** The faults of each level, by how plainly and how often they show on the screen in the practice sequence. Judgement, from watching it. */
export const HIDDEN: Readonly<Record<PracticeLevel, readonly string[]>> = {
  easy: [
    "tilt-drive-slack",
    "pan-drive-slack",
    "tilt-winding-open",
    "pan-output-burnt",
    "zoom-output-burnt",
    "focus-winding-open",
    "magenta-output-burnt",
    "iris-leaf-kinked",
    "colour-sensor-shifted",
    "menu-pan-reversed",
    "menu-range-cut",
  ],
  middling: [
    "pan-track-dented",
    "tilt-track-dented",
    "pan-stop-pushed-in",
    "colour-wheel-bent",
    "rotating-wheel-gummed",
    "gobo-spring-sprung",
    "yellow-flag-fouled",
    "zoom-rods-dry",
    "focus-rod-bent",
    "prism-arm-bent",
    "lenses-grimy",
  ],
  hard: [
    "tilt-pulls-hard-one-way",
    "tilt-disc-scratched",
    "cyan-flag-binds-hot",
    "magenta-flag-scorched",
    "gobo-teeth-worn",
    "gobo-drive-gritty",
    "zoom-belt-stretched",
    "iris-leaf-binds-hot",
    "prism-spring-gone",
    "head-plug-half-out",
    "supply-sags",
  ],
};

/** Nothing is wrong in one round out of this many: who always finds something learns to imagine. Judgement. */
const NOTHING_IN = 5;

/**
 * What is hidden in a round: one fault of the level, or nothing. `seed` is any whole
 * number; the same seed hides the same again.
 */
export const hiddenFault = (level: PracticeLevel, seed: number): readonly string[] => {
  const chance = chanceFrom(seedFor(seed, "practice"));
  if (chance() < 1 / NOTHING_IN) return [];
  const faults = HIDDEN[level];
  const one = faults[Math.floor(chance() * faults.length)];
  return one === undefined ? [] : [one];
};
