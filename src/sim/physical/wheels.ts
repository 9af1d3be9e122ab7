import type { FunctionId } from "../../domain/trade/functions.ts";
import type { FixtureBuild } from "../build.ts";
import { between } from "../chance.ts";
import type { TroubledMoment } from "../trouble.ts";
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

/** Away from the open place of the wheel. */
const goboIn = ({ at }: TroubledMoment): boolean => Math.abs(at("Gobo1") - Math.round(at("Gobo1"))) > 0.06;

const springLoose: PhysicalFault = {
  id: "gobo-spring-sprung",
  words: "spring of a rotating gobo half out of its groove",
  on: ["Gobo1", "Gobo1Pos"],
  aside: false,
  troubles: (build, chance) => {
    if (!fitted(build, "Gobo1", "wheel")) return undefined;
    const loose = between(chance, 0.3, 0.6);
    const soft = (look: TroubledMoment) => loose * 0.8 * Math.abs(Math.sin(2 * Math.PI * look.at("Gobo1Pos")));
    return [
      { kind: "optics", spoils: (look) => (goboIn(look) ? { wobble: loose, soft: soft(look) } : {}) },
      { kind: "mover", function: "Gobo1", sounds: ({ jolt }) => (jolt > 0.6 ? { rattle: 0.4 } : {}) },
    ];
  },
};

/** What can be wrong with what turns: gobos, prisms. */
export const TURNER_FAULTS: readonly PhysicalFault[] = [
  springLoose,
  moverFault({
    id: "gobo-teeth-worn",
    on: "Gobo1Pos",
    words: "teeth of the gobo rotation worn down on one side",
    aside: false,
    hooks: (_build, chance) => {
      const play = between(chance, 0.03, 0.06);
      const place = chance();
      return { play: () => play, drag: ({ at }) => 0.97 * bumpRound(at, place, 0.12) };
    },
  }),
  moverFault({
    id: "gobo-drive-gritty",
    on: "Gobo1Pos",
    words: "a grain of grit in the gobo rotation",
    aside: true,
    hooks: (_build, chance) => {
      const place = chance();
      return {
        drag: ({ at }) => 0.8 * bumpRound(at, place, 0.08),
        sounds: ({ at, speed }) => ({ tick: speed > 0.002 ? 0.5 * bumpRound(at, place, 0.05) : 0 }),
      };
    },
  }),
  moverFault({
    id: "prism-axle-dry",
    on: "Prism1Pos",
    words: "prism axle run dry",
    aside: true,
    hooks: (_build, chance) => {
      const place = chance();
      const whine = between(chance, 0.3, 0.6);
      return {
        drag: ({ at }) => 0.95 * bumpRound(at * 2, place, 0.3),
        sounds: ({ speed }) => ({ whine: speed > 0.05 ? whine : 0 }),
      };
    },
  }),
];
