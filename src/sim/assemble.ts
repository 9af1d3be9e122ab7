import type { FunctionId } from "../domain/trade/functions.ts";
import type { FixtureBuild, PartBuild } from "./build.ts";
import { between, chanceFrom, seedFor } from "./chance.ts";
import { Light } from "./lamp.ts";
import { AS_DRAWN, type Making, type SimPart } from "./part.ts";
import { Leaf, TravelPart } from "./travel.ts";
import type { MoverTrouble, PartTrouble } from "./trouble.ts";
import { TurnPart, WheelPart } from "./wheel.ts";

/** A fixture as drawn, or as made: no two copies of a fixture are quite alike, and none of that is a fault. */
export type Copy = "drawn" | "made";

export interface FittedParts {
  readonly part: SimPart;
  /** Its place in the build's list of parts. */
  readonly index: number;
}

/**
 * The parts of the build that move or shine, each with what is wrong with it. `seed` is any whole number; the
 * same seed makes the same fixture again.
 */
export const assemble = (
  build: FixtureBuild,
  troubles: readonly PartTrouble[],
  copy: Copy,
  seed: number,
): readonly FittedParts[] =>
  build.parts.flatMap((part, index) => {
    const own = troubles.filter(
      (trouble): trouble is MoverTrouble => trouble.kind === "mover" && trouble.function === part.function,
    );
    const making = makingOf(copy, seed, part.function);
    const made = make(part, [...own, ...noiseOf(part.function, making)], making);
    return made ? [{ part: made, index }] : [];
  });

const make = (build: PartBuild, troubles: readonly MoverTrouble[], making: Making): SimPart | undefined => {
  switch (build.kind) {
    case "travel":
      return new TravelPart(build, troubles, making);
    case "wheel":
      return new WheelPart(build, troubles, making);
    case "turn":
      return new TurnPart(build, troubles, making);
    case "bands":
      return new Leaf(build, troubles, making);
    case "light":
      return new Light(build);
    case "control":
      return undefined;
    default:
      return build satisfies never;
  }
};

/** Heard only while it moves. */
const noiseOf = (id: FunctionId, { noise }: Making): readonly MoverTrouble[] =>
  Object.keys(noise).length === 0
    ? []
    : [{ kind: "mover", function: id, sounds: ({ speed }) => (speed > 0.05 ? noise : {}) }];

const makingOf = (copy: Copy, seed: number, id: FunctionId): Making => {
  if (copy === "drawn") return AS_DRAWN;
  const chance = chanceFrom(seedFor(seed, id));
  return {
    pace: between(chance, 0.985, 1.015),
    shift: between(chance, -1, 1),
    laterUp_s: (LATER_UP_S[id] ?? 0) * between(chance, -1, 1),
    noise: chance() < NOISY ? { [chance() < 0.5 ? "scrape" : "rattle"]: between(chance, 0.05, 0.14) } : {},
  };
};

/** Weight and belts make the axes answer later one way than the other: this much at most. An assumption. */
const LATER_UP_S: Readonly<Partial<Record<FunctionId, number>>> = { Pan: 0.06, Tilt: 0.15 };
/** The share of parts that make some noise which means nothing. An assumption. */
const NOISY = 0.06;
