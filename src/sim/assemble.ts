import type { FunctionId } from "../domain/trade/functions.ts";
import type { FixtureBuild, PartBuild } from "./build.ts";
import { between, chanceFrom, seedFor } from "./chance.ts";
import { Leaf } from "./leaf.ts";
import { Light } from "./light.ts";
import type { Making, Part } from "./part.ts";
import { Travel } from "./travel.ts";
import type { MoverTrouble, Trouble } from "./trouble.ts";
import { Turn } from "./turn.ts";
import { Wheel } from "./wheel.ts";

/** As drawn, or as made: no two copies of a fixture are quite alike, and none of that is a fault. */
export type Copy = "drawn" | "made";

export interface Fitted {
  readonly part: Part;
  /** Its place in the build's list of parts. */
  readonly index: number;
}

/** The parts of the build that move or shine, each with what is wrong with it. */
export const assemble = (
  build: FixtureBuild,
  troubles: readonly Trouble[],
  copy: Copy,
  seed: number,
): readonly Fitted[] =>
  build.parts.flatMap((part, index) => {
    const own = troubles.filter((trouble) => trouble.kind === "mover" && trouble.function === part.function);
    const made = make(part, own as readonly MoverTrouble[], makingOf(copy, seed, part.function));
    return made ? [{ part: made, index }] : [];
  });

const make = (build: PartBuild, troubles: readonly MoverTrouble[], making: Making): Part | undefined => {
  switch (build.kind) {
    case "travel":
      return new Travel(build, troubles, making);
    case "wheel":
      return new Wheel(build, troubles, making);
    case "turn":
      return new Turn(build, troubles, making);
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

const makingOf = (copy: Copy, seed: number, id: FunctionId): Making => {
  if (copy === "drawn") return { pace: 1, shift: 0 };
  const chance = chanceFrom(seedFor(seed, id));
  return { pace: between(chance, 0.985, 1.015), shift: between(chance, -1, 1) };
};
