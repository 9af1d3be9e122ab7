import type { FunctionId } from "../../domain/trade/functions.ts";
import { FRAME_SECONDS } from "../../domain/units.ts";
import { between } from "../chance.ts";
import { bump, moverFault, type PhysicalFault, warmed } from "./fault.ts";

const irisBent: PhysicalFault = {
  id: "iris-leaf-kinked",
  words: "one leaf of the iris kinked",
  on: ["Iris"],
  aside: true,
  troubles: (_build, chance) => {
    const oval = between(chance, 0.25, 0.5);
    return [
      { kind: "optics", spoils: ({ at }) => (at("Iris") > 0.3 ? { oval: oval * at("Iris") } : {}) },
      { kind: "mover", function: "Iris", drag: ({ at }) => (at > 0.6 ? 0.5 : 0) },
    ];
  },
};

/** A lens that travels on rods, as faults name it. */
interface Carriage {
  readonly name: "zoom" | "focus";
  readonly on: FunctionId;
}
export const ZOOM: Carriage = { name: "zoom", on: "Zoom" };
export const FOCUS: Carriage = { name: "focus", on: "Focus1" };

/** The carriage hardly climbs, and whines while it moves. `loud` is how loudly, 0 to 1. */
export const rodsDry = ({ name, on }: Carriage, loud: number): PhysicalFault =>
  moverFault({
    id: `${name}-rods-dry`,
    on,
    words: `${name} rods dry, the carriage hardly climbs`,
    aside: false,
    hooks: (_build, chance) => {
      const rubs = between(chance, 0.35, 0.45);
      const lift = between(chance, 0.45, 0.55);
      return {
        drag: ({ way, upright }) => rubs + lift * Math.max(0, way * upright),
        sounds: ({ speed }) => ({ whine: speed > 0.1 ? loud : 0 }),
      };
    },
  });

/** The carriage binds in one place. */
export const rodBent = ({ name, on }: Carriage): PhysicalFault =>
  moverFault({
    id: `${name}-rod-bent`,
    on,
    words: `${name} rod bent in one place`,
    aside: true,
    hooks: (_build, chance) => {
      const place = between(chance, 0.3, 0.7);
      const hard = between(chance, 0.85, 0.97);
      return { drag: ({ at }) => hard * bump(at, place, 0.2) };
    },
  });

/** What can be wrong with zoom, focus and iris. */
export const LENS_FAULTS: readonly PhysicalFault[] = [
  rodsDry(ZOOM, 0.35),
  moverFault({
    id: "zoom-belt-stretched",
    on: "Zoom",
    words: "zoom belt stretched",
    aside: true,
    hooks: (_build, chance) => {
      const play = between(chance, 0.05, 0.09);
      return { play: () => play };
    },
  }),
  moverFault({
    id: "zoom-output-burnt",
    on: "Zoom",
    words: "output for the zoom motor burnt out",
    aside: false,
    hooks: () => ({ drive: () => "dead" }),
  }),
  rodBent(FOCUS),
  moverFault({
    id: "focus-pinion-undone",
    on: "Focus1",
    words: "set screw of the focus pinion undone",
    aside: false,
    hooks: (_build, chance) => {
      const sinks = between(chance, 0.0006, 0.0014) * FRAME_SECONDS;
      return { slip: ({ upright, speed, way }) => -sinks * upright - (speed > 0.3 ? way * sinks * 15 : 0) };
    },
  }),
  moverFault({
    id: "focus-winding-open",
    on: "Focus1",
    words: "one winding of the focus motor open",
    aside: true,
    hooks: () => ({ drive: () => "buzzing" }),
  }),
  moverFault({
    id: "iris-leaf-binds-hot",
    on: "Iris",
    words: "an iris leaf binds as it warms",
    aside: false,
    hooks: (_build, chance) => {
      const hard = between(chance, 0.9, 1);
      const from = between(chance, 0.5, 0.7);
      return { drag: ({ at, warmth }) => (at > from ? Math.max(0.4, hard * warmed(warmth, 0.25, 0.5)) : 0) };
    },
  }),
  irisBent,
];
