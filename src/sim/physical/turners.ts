import { between } from "../chance.ts";
import type { TroubledMoment } from "../trouble.ts";
import { bumpRound, fitted, moverFault, type PhysicalFault } from "./fault.ts";

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
