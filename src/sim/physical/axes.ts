import { AXIS_FUNCTIONS, type FunctionId } from "../../domain/trade/functions.ts";
import { between } from "../chance.ts";
import type { Stance } from "../moment.ts";
import type { AxisFunction } from "./fault.ts";
import { bump, fitted, type PhysicalFault, shareOfTravel } from "./fault.ts";

const slack = (id: string, axis: AxisFunction, words: string, deg: readonly [number, number]): PhysicalFault => ({
  id,
  words,
  on: [axis],
  aside: false,
  troubles: (build, chance) => {
    const play = shareOfTravel(build, axis, between(chance, ...deg));
    return [{ kind: "mover", function: axis, play: () => play, looseness: between(chance, 0.5, 0.9) }];
  },
});

const rough = (id: string, axis: AxisFunction, words: string, aside: boolean): PhysicalFault => ({
  id,
  words,
  on: [axis],
  aside,
  troubles: (build, chance) => {
    const place = between(chance, 0.2, 0.8);
    const width = shareOfTravel(build, axis, between(chance, 12, 22));
    const hard = between(chance, 0.86, 0.95);
    return [{ kind: "mover", function: axis, drag: ({ at }) => hard * bump(at, place, width) }];
  },
});

const oneWay = (id: string, axis: AxisFunction, way: 1 | -1, words: string, aside: boolean): PhysicalFault => ({
  id,
  words,
  on: [axis],
  aside,
  troubles: (_build, chance) => {
    const hard = between(chance, 0.72, 0.85);
    return [{ kind: "mover", function: axis, drag: (stance) => (stance.way === way ? hard : 0) }];
  },
});

/** Misreads in a band of angles: it stops, searches to and fro, and is behind when it comes out. */
const dusty = (id: string, axis: AxisFunction, words: string): PhysicalFault => ({
  id,
  words,
  on: [axis],
  aside: false,
  troubles: (build, chance) => {
    if (!fitted(build, axis, "travel")?.encoded) return undefined;
    const place = between(chance, 0.25, 0.75);
    const width = shareOfTravel(build, axis, between(chance, 25, 45));
    const off = shareOfTravel(build, axis, between(chance, 2, 4));
    const misreads = ({ at, time_s }: Stance) =>
      off * bump(at, place, width) * Math.sin(2 * Math.PI * 2.2 * time_s + 40 * at);
    return [{ kind: "mover", function: axis, misreads, holdsBack: ({ at }) => 0.93 * bump(at, place, width) }];
  },
});

/** A scratch right across the disc: pulses are lost at a few angles, and at rest it never finds peace. */
const scratched = (id: string, axis: AxisFunction, words: string): PhysicalFault => ({
  id,
  words,
  on: [axis],
  aside: true,
  troubles: (build, chance) => {
    if (!fitted(build, axis, "travel")?.encoded) return undefined;
    const off = shareOfTravel(build, axis, between(chance, 1.2, 2.2));
    const hz = between(chance, 1.2, 2);
    return [
      {
        kind: "mover",
        function: axis,
        misreads: ({ time_s }) => off * Math.sin(2 * Math.PI * hz * time_s),
        homeTries: ({ chance: draw }) => (draw() < 0.4 ? 2 : 1),
      },
    ];
  },
});

const dead = (id: string, on: FunctionId, drive: "dead" | "buzzing", words: string, aside: boolean): PhysicalFault => ({
  id,
  words,
  on: [on],
  aside,
  troubles: () => [{ kind: "mover", function: on, drive: () => drive }],
});

const looseArms: PhysicalFault = {
  id: "arm-bolts-undone",
  words: "bolts of the yoke arms half undone",
  on: AXIS_FUNCTIONS,
  aside: true,
  troubles: (_build, chance) =>
    AXIS_FUNCTIONS.map((axis) => ({
      kind: "mover",
      function: axis,
      looseness: between(chance, 0.9, 1.5),
      sounds: ({ jolt }) => (jolt > 0.5 ? { rattle: 0.5 * jolt } : {}),
    })),
};

const stopPushed: PhysicalFault = {
  id: "pan-stop-pushed-in",
  words: "mechanical pan stop bent inwards",
  on: ["Pan"],
  aside: true,
  troubles: (build, chance) => {
    const lost = shareOfTravel(build, "Pan", between(chance, 15, 30));
    const low = chance() < 0.5;
    return [{ kind: "mover", function: "Pan", ends: { low: low ? lost : -1, high: low ? 2 : 1 - lost } }];
  },
};

/** What can be wrong with pan and tilt. */
export const AXIS_FAULTS: readonly PhysicalFault[] = [
  slack("tilt-drive-slack", "Tilt", "tilt belt long and slack", [1.2, 2.6]),
  slack("pan-drive-slack", "Pan", "pan belt long and slack", [1.4, 3]),
  rough("pan-track-dented", "Pan", "a dent in the pan bearing track", false),
  rough("tilt-track-dented", "Tilt", "a dent in the tilt bearing track", true),
  oneWay("tilt-pulls-hard-one-way", "Tilt", 1, "tilt drags when it goes one way, free the other", false),
  oneWay("pan-pulls-hard-one-way", "Pan", -1, "pan drags when it goes one way, free the other", true),
  dusty("pan-disc-dusty", "Pan", "dust on part of the pan encoder disc"),
  scratched("tilt-disc-scratched", "Tilt", "tilt encoder disc scratched all round"),
  dead("tilt-winding-open", "Tilt", "buzzing", "one winding of the tilt motor open", false),
  dead("pan-output-burnt", "Pan", "dead", "output for the pan motor burnt out", true),
  looseArms,
  stopPushed,
];
