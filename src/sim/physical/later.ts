import type { FunctionId } from "../../domain/trade/functions.ts";
import { FRAMES_PER_SECOND } from "../../domain/units.ts";
import { between } from "../chance.ts";
import type { AxisFunction } from "./fault.ts";
import { bumpRound, fitted, moverFault, type PhysicalFault, shareOfTravel } from "./fault.ts";
import { FOCUS, rodBent, rodsDry, ZOOM } from "./lenses.ts";

/** The pulley turns on the shaft a little at every hard start: an encoder on the motor does not see it. */
const pulleySlips = (axis: AxisFunction, words: string, aside: boolean): PhysicalFault =>
  moverFault({
    id: `${axis.toLowerCase()}-pulley-slips`,
    on: axis,
    words,
    aside,
    hooks: (build, chance) => {
      const slips = shareOfTravel(build, axis, between(chance, 0.4, 1));
      return { slip: ({ speed, way, chance: draw }) => (speed > 0.3 && draw() < 0.06 ? -way * slips : 0) };
    },
  });

const wheelRubs = (id: string, on: FunctionId, words: string, aside: boolean): PhysicalFault =>
  moverFault({
    id,
    on,
    words,
    aside,
    hooks: (_build, chance) => {
      const place = between(chance, 0.2, 0.5);
      const hard = between(chance, 0.7, 0.9);
      return { drag: ({ at }) => hard * bumpRound(at, place, 0.3) };
    },
  });

const hubSlips = (id: string, on: FunctionId, words: string, aside: boolean): PhysicalFault =>
  moverFault({
    id,
    on,
    words,
    aside,
    hooks: (build, chance) => {
      const places = fitted(build, on, "wheel")?.positions.length ?? 8;
      const slips = between(chance, 0.04, 0.08) / places;
      return { slip: ({ speed, way, chance: draw }) => (speed > 0.5 && draw() < 0.12 ? -way * slips : 0) };
    },
  });

const lampAskew: PhysicalFault = {
  id: "lamp-sits-askew",
  words: "lamp sits askew in its holder",
  on: [],
  aside: true,
  troubles: (build, chance) => {
    if (build.source.kind !== "lamp") return undefined;
    const shadow = between(chance, 0.25, 0.5);
    const dim = between(chance, 0.15, 0.3);
    return [{ kind: "optics", spoils: () => ({ shadow, dim }) }];
  },
};

const fanStopped: PhysicalFault = {
  id: "fan-lead-torn",
  words: "lead of one fan torn off",
  on: [],
  aside: false,
  troubles: (_build, chance) => {
    const opens = between(chance, 0.7, 0.85);
    return [
      { kind: "air", fan: () => ({ loud: 0, tick: 0, turning: false }), smell: () => 0 },
      { kind: "source", drops: ({ warmth }) => warmth > opens, strikes: ({ warmth }) => warmth < opens - 0.15 },
    ];
  },
};

const lensUnseated: PhysicalFault = {
  id: "inner-lens-unseated",
  words: "an inner lens has left one of its clips",
  on: ["Focus1"],
  aside: false,
  troubles: (_build, chance) => {
    const soft = between(chance, 0.3, 0.6);
    return [
      { kind: "optics", spoils: () => ({ soft }) },
      { kind: "mover", function: "Focus1", sounds: ({ jolt }) => (jolt > 0.5 ? { rattle: 0.4 * jolt } : {}) },
    ];
  },
};

const lampLeads: PhysicalFault = {
  id: "source-lead-loose",
  words: "lead of the light source loose in its terminal",
  on: [],
  aside: false,
  troubles: (_build, chance) => {
    const hazard = between(chance, 0.01, 0.03);
    let until = -1;
    return [
      {
        kind: "source",
        gives: ({ frame, jolt, chance: draw }) => {
          if (jolt > 0.5 && frame > until && draw() < hazard) until = frame + between(draw, 0.2, 1) * FRAMES_PER_SECOND;
          return frame < until ? draw() : 1;
        },
      },
    ];
  },
};

/** Faults that were added later, without sight of the fault model's answers; every third is kept aside. */
export const LATER_FAULTS: readonly PhysicalFault[] = [
  pulleySlips("Pan", "screw of the pan pulley slack, the pulley creeps round its shaft", false),
  pulleySlips("Tilt", "screw of the tilt pulley slack, the pulley creeps round its shaft", true),
  wheelRubs("fixed-wheel-bent", "Gobo2", "fixed gobo wheel bent, touches its neighbour in one place", false),
  hubSlips("colour-hub-slips", "Color1", "hub of the colour wheel slips on the motor shaft", true),
  rodsDry(FOCUS, 0.3),
  rodBent(ZOOM),
  moverFault({
    id: "iris-lever-slack",
    on: "Iris",
    words: "lever of the iris slack on its motor",
    aside: false,
    hooks: (_build, chance) => {
      const play = between(chance, 0.08, 0.16);
      const slips = between(chance, 0.01, 0.03);
      return {
        play: () => play,
        slip: ({ speed, way, chance: draw }) => (speed > 0.5 && draw() < 0.05 ? -way * slips : 0),
      };
    },
  }),
  moverFault({
    id: "tilt-lock-left-on",
    on: "Tilt",
    words: "transport lock of tilt left on",
    aside: true,
    hooks: () => ({ drag: () => 1 }),
  }),
  moverFault({
    id: "tilt-stop-pushed-in",
    on: "Tilt",
    words: "mechanical tilt stop bent inwards",
    aside: false,
    hooks: (build, chance) => {
      const lost = shareOfTravel(build, "Tilt", between(chance, 12, 25));
      return { ends: chance() < 0.5 ? { low: lost, high: 2 } : { low: -1, high: 1 - lost } };
    },
  }),
  lampAskew,
  fanStopped,
  lensUnseated,
  lampLeads,
];
