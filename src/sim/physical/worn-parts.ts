import { AXIS_FUNCTIONS, type FunctionId } from "../../domain/trade/functions.ts";
import { between } from "../chance.ts";
import type { TroubledMoment } from "../trouble.ts";
import type { AxisFunction } from "./fault.ts";
import { bump, bumpRound, fitted, moverFault, type PhysicalFault, shareOfTravel, warmed } from "./fault.ts";

/** A wheel out of true tightens and slackens the belt once in each of its turns, and the belt edge runs on its flange. */
const idlerOutOfTrue = (axis: AxisFunction, words: string, aside: boolean): PhysicalFault =>
  moverFault({
    id: `${axis.toLowerCase()}-idler-out-of-true`,
    on: axis,
    words,
    aside,
    hooks: (build, chance) => {
      const turn = shareOfTravel(build, axis, between(chance, 24, 40));
      const phase = chance();
      const rubs = between(chance, 0.45, 0.65);
      const play = shareOfTravel(build, axis, between(chance, 0.4, 0.9));
      const tight = (at: number) => 0.5 + 0.5 * Math.sin(2 * Math.PI * (at / turn + phase));
      return {
        drag: ({ at }) => 0.2 + rubs * tight(at),
        play: ({ at }) => play * (1 - tight(at)),
        sounds: ({ at, speed }) => ({ rattle: speed > 0.2 && tight(at) < 0.1 ? 0.25 : 0 }),
      };
    },
  });

/** From one place on the wheel to the next, in turns. */
const pitch = (build: Parameters<PhysicalFault["troubles"]>[0], id: FunctionId): number =>
  1 / (fitted(build, id, "wheel")?.positions.length ?? 8);

/** With this place of the wheel in the beam. */
const isIn = ({ at }: TroubledMoment, id: FunctionId, place: number, width: number): boolean =>
  bumpRound(at(id), place, width) > 0;

/** One glass or gobo out of its clip: it leans where it stands, touches a neighbour once in a turn, and rattles. */
const outOfItsClip = (
  id: string,
  on: FunctionId,
  words: string,
  aside: boolean,
  spoils: (how: number) => { readonly wobble: number; readonly soft: number; readonly shadow: number },
): PhysicalFault => ({
  id,
  words,
  on: [on],
  aside,
  troubles: (build, chance) => {
    const wheel = fitted(build, on, "wheel");
    if (!wheel || wheel.positions.length < 3) return undefined;
    const places = wheel.positions.length;
    const place = (1 + Math.floor(chance() * (places - 1))) / places;
    const how = between(chance, 0.3, 0.6);
    const touches = between(chance, 0.5, 0.8);
    return [
      {
        kind: "optics",
        spoils: (look) => (isIn(look, on, place, 1 / places) ? spoils(how) : {}),
        patchy: { function: on, how: (look) => (isIn(look, on, place, 1 / places) ? how : 0) },
      },
      {
        kind: "mover",
        function: on,
        drag: ({ at }) => touches * bumpRound(at, place + 0.5 / places, 0.4 / places),
        sounds: ({ jolt }) => (jolt > 0.5 ? { rattle: 0.5 * jolt } : {}),
      },
    ];
  },
});

const magnetLoose = (id: string, on: FunctionId, words: string, aside: boolean): PhysicalFault =>
  moverFault({
    id,
    on,
    words,
    aside,
    hooks: (build) => ({
      homeTries: ({ chance }) => 1 + Math.floor(chance() * 3.4),
      homeShift: ({ chance }) => pitch(build, on) * (chance() - 0.5) * 1.4,
    }),
  });

const hubCreeps = (id: string, on: FunctionId, words: string, aside: boolean): PhysicalFault =>
  moverFault({
    id,
    on,
    words,
    aside,
    hooks: (build, chance) => {
      const slips = pitch(build, on) * between(chance, 0.05, 0.1);
      return { slip: ({ speed, way, chance: draw }) => (speed > 0.5 && draw() < 0.1 ? -way * slips : 0) };
    },
  });

const prismChipped: PhysicalFault = {
  id: "prism-corner-chipped",
  words: "corner of the prism chipped, the glass loose in its ring",
  on: ["Prism1"],
  aside: true,
  troubles: (_build, chance) => {
    const shade = between(chance, 0.25, 0.45);
    const leans = between(chance, 0.2, 0.4);
    return [
      { kind: "optics", spoils: ({ at }) => (at("Prism1") > 0.7 ? { shadow: shade, wobble: leans } : {}) },
      { kind: "mover", function: "Prism1", sounds: ({ speed }) => (speed > 0.3 ? { rattle: 0.4 } : {}) },
    ];
  },
};

/** Wear of moving parts that was added last, without sight of the fault model's numbers; every third is kept aside. */
export const WORN_PARTS: readonly PhysicalFault[] = [
  idlerOutOfTrue("Pan", "tension wheel of the pan belt out of true, the belt runs on its flange", false),
  idlerOutOfTrue("Tilt", "tension wheel of the tilt belt out of true, the belt runs on its flange", true),
  outOfItsClip("colour-glass-unclipped", "Color1", "one glass of the colour wheel out of its clip", false, () => ({
    wobble: 0,
    soft: 0,
    shadow: 0.2,
  })),
  moverFault({
    id: "cyan-sensor-filings",
    on: "ColorSub_C",
    words: "filings on the home sensor of the cyan flag",
    aside: false,
    hooks: (_build, chance) => {
      const shift = between(chance, 0.12, 0.22) * (chance() < 0.5 ? -1 : 1);
      return { homeShift: () => shift };
    },
  }),
  outOfItsClip("fixed-gobo-tipped", "Gobo2", "one gobo of the fixed wheel tipped in its seat", true, (how) => ({
    wobble: how,
    soft: 0.5 * how,
    shadow: 0,
  })),
  magnetLoose("rotating-wheel-magnet-loose", "Gobo1", "home magnet of the rotating gobo wheel loose", false),
  hubCreeps("rotating-wheel-hub-creeps", "Gobo1", "hub of the rotating gobo wheel creeps round its shaft", false),
  prismChipped,
  moverFault({
    id: "frost-arm-undone",
    on: "Frost1",
    words: "screw of the frost arm undone, the arm hangs as the head stands",
    aside: false,
    hooks: (_build, chance) => {
      const hangs = between(chance, 0.3, 0.5);
      return { pull: ({ at, upright }) => -Math.min(at, hangs * Math.max(0.2, 1 - upright)) };
    },
  }),
  moverFault({
    id: "zoom-bushings-tight-hot",
    on: "Zoom",
    words: "bushings of the zoom close on the rod as they warm",
    aside: false,
    hooks: (_build, chance) => {
      const hard = between(chance, 0.8, 0.95);
      return { drag: ({ warmth }) => hard * warmed(warmth, 0.2, 0.45) };
    },
  }),
  moverFault({
    id: "ring-wire-caught",
    on: "ShaperRot",
    words: "a wire caught in the ring that turns the blades",
    aside: true,
    hooks: (_build, chance) => {
      const from = between(chance, 0.55, 0.7);
      return {
        drag: ({ at, way }) => (way > 0 ? 0.9 * bump(at, 1, 2 * (1 - from)) : 0),
        ends: { low: -1, high: between(chance, 0.8, 0.92) },
      };
    },
  }),
  moverFault({
    id: "shutter-buffer-gone",
    on: "Shutter1",
    words: "rubber buffer of the shutter gone, the blade strikes metal and bounces",
    aside: false,
    hooks: (_build, chance) => {
      const back = between(chance, 0.15, 0.3);
      let struck = -100;
      return {
        pull: ({ frame, at, speed }) => {
          if (at > 0.9 && speed > 0.2) struck = frame;
          return frame - struck < 4 ? -back : 0;
        },
        sounds: ({ at, speed }) => (speed > 0.2 && (at > 0.85 || at < 0.15) ? { rattle: 0.6, knock: 0.5 } : {}),
      };
    },
  }),
  {
    id: "head-screw-loose",
    words: "a screw has come out of a cover and lies in the head",
    on: AXIS_FUNCTIONS,
    aside: false,
    troubles: (_build, chance) => {
      const loud = between(chance, 0.4, 0.7);
      return AXIS_FUNCTIONS.map((axis) => ({
        kind: "mover" as const,
        function: axis,
        sounds: ({ jolt }: { readonly jolt: number }) => (jolt > 0.4 ? { rattle: loud * jolt } : {}),
      }));
    },
  },
];
