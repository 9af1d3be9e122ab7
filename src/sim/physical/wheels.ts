import type { FunctionId } from "../../domain/trade/functions.ts";
import type { FixtureBuild } from "../build.ts";
import { between } from "../chance.ts";
import { bumpRound, fitted, moverFault, type PhysicalFault, warmed } from "./fault.ts";

/** From one place on the wheel to the next, in turns. */
const pitch = (build: FixtureBuild, id: FunctionId): number => 1 / (fitted(build, id, "wheel")?.positions.length ?? 8);

/** What can be wrong with colour, gobo and effect wheels as a whole. */
export const WHEEL_FAULTS: readonly PhysicalFault[] = [
  moverFault({
    id: "colour-sensor-shifted",
    on: "Color1",
    words: "home sensor of the colour wheel pushed aside",
    aside: false,
    hooks: (build, chance) => {
      const shift = pitch(build, "Color1") * between(chance, 0.3, 0.48) * (chance() < 0.5 ? -1 : 1);
      return { homeShift: () => shift };
    },
  }),
  moverFault({
    id: "colour-magnet-faint",
    on: "Color1",
    words: "home magnet of the colour wheel gone faint",
    aside: true,
    hooks: (build) => ({
      homeTries: ({ chance }) => 2 + Math.floor(chance() * 2.5),
      homeShift: ({ chance }) => pitch(build, "Color1") * (chance() - 0.5) * 1.6,
    }),
  }),
  moverFault({
    id: "colour-wheel-bent",
    on: "Color1",
    words: "colour wheel bent, catches in one place",
    aside: true,
    hooks: (_build, chance) => {
      const place = chance();
      const hard = between(chance, 0.7, 0.9);
      return { drag: ({ at }) => hard * bumpRound(at, place, 0.16) };
    },
  }),
  moverFault({
    id: "fixed-gobo-sensor-one-off",
    on: "Gobo2",
    words: "home sensor of the fixed gobo wheel a whole place off",
    aside: true,
    hooks: (build, chance) => {
      const shift = pitch(build, "Gobo2") * (chance() < 0.5 ? -1 : 1);
      return { homeShift: () => shift };
    },
  }),
  moverFault({
    id: "fixed-gobo-hub-slips",
    on: "Gobo2",
    words: "hub of the fixed gobo wheel slips on the motor shaft",
    aside: false,
    hooks: (build, chance) => {
      const slips = pitch(build, "Gobo2") * between(chance, 0.04, 0.08);
      return { slip: ({ speed, way, chance: draw }) => (speed > 0.5 && draw() < 0.12 ? -way * slips : 0) };
    },
  }),
  moverFault({
    id: "rotating-wheel-gummed",
    on: "Gobo1",
    words: "old grease on the axle of the rotating gobo wheel, stiff while cold",
    aside: false,
    hooks: (_build, chance) => {
      const hard = between(chance, 0.8, 0.92);
      return { drag: ({ warmth }) => hard * (1 - warmed(warmth, 0.5, 0.9)) };
    },
  }),
  moverFault({
    id: "effect-wheel-output-burnt",
    on: "AnimationWheel1",
    words: "output for the animation wheel motor burnt out",
    aside: true,
    hooks: () => ({ drive: () => "dead" }),
  }),
];
