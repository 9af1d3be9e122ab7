import { FRAMES_PER_SECOND } from "../../domain/units.ts";
import { between, type SimDraw } from "../chance.ts";
import type { FrameMoment } from "../moment.ts";
import { type PhysicalFault, warmed } from "./fault.ts";

/** Asked once a frame: true when what is loose opens for a moment, which takes a jolt. */
const opensWhenJolted = (hazard: number, from: number) => {
  let asked = -1;
  return ({ frame, jolt, chance }: FrameMoment): boolean => {
    const opens = frame !== asked && jolt > from && chance() < hazard;
    asked = frame;
    return opens;
  };
};

const linkLoose: PhysicalFault = {
  id: "base-link-loose",
  words: "power link in the base loose, arcs and opens when shaken",
  on: [],
  aside: false,
  troubles: (_build, chance) => {
    const opens = opensWhenJolted(between(chance, 0.008, 0.02), 0.6);
    return [
      { kind: "supply", resets: opens },
      { kind: "air", fan: () => ({ loud: 0, tick: 0, turning: true }), smell: ({ jolt }) => (jolt > 0.8 ? 0.4 : 0) },
    ];
  },
};

const cordNicked: PhysicalFault = {
  id: "cord-core-broken",
  words: "one core of the mains cord broken at the gland, it opens as the base rocks",
  on: [],
  aside: true,
  troubles: (_build, chance) => {
    const opens = opensWhenJolted(between(chance, 0.004, 0.012), 0.35);
    return [{ kind: "supply", resets: opens }];
  },
};

const screwInBase: PhysicalFault = {
  id: "screw-in-the-base",
  words: "a loose screw rolls about in the base and now and then bridges the supply",
  on: ["Pan"],
  aside: false,
  troubles: (_build, chance) => {
    const bridges = opensWhenJolted(between(chance, 0.003, 0.008), 0.5);
    const loud = between(chance, 0.4, 0.6);
    return [
      { kind: "supply", resets: bridges },
      { kind: "mover", function: "Pan", sounds: ({ jolt }) => (jolt > 0.3 ? { rattle: loud } : {}) },
    ];
  },
};

/** Nothing smooths the supply: light and logic follow what the motors draw. */
const capacitorSwollen: PhysicalFault = {
  id: "capacitor-swollen",
  words: "smoothing capacitor of the supply swollen",
  on: [],
  aside: false,
  troubles: (_build, chance) => {
    const ripple = between(chance, 0.15, 0.35);
    const hazard = between(chance, 0.005, 0.015);
    return [
      { kind: "supply", resets: ({ busy, chance: draw }) => busy >= 4 && draw() < hazard },
      { kind: "source", gives: ({ busy, chance: draw }) => (busy >= 2 ? 1 - ripple * draw() : 1) },
    ];
  },
};

/** As it warms the joint opens for moments: the light breaks, and the plastic smells. */
const jointBurnt: PhysicalFault = {
  id: "yoke-joint-burnt",
  words: "joint of the lamp leads in the yoke burnt, opens for moments as it warms",
  on: [],
  aside: true,
  troubles: (_build, chance) => {
    const hazard = between(chance, 0.003, 0.01);
    const breaks = breaksFor([0.1, 0.6], hazard);
    return [
      { kind: "source", gives: breaks },
      {
        kind: "air",
        fan: () => ({ loud: 0, tick: 0, turning: true }),
        smell: ({ warmth }) => 0.5 * warmed(warmth, 0.2, 0.4),
      },
    ];
  },
};

const breaksFor = (seconds: readonly [number, number], hazard: number) => {
  let until = -1;
  return ({ frame, warmth, chance }: FrameMoment): number => {
    if (frame >= until && chance() < hazard * warmed(warmth, 0.1, 0.4))
      until = frame + between(chance, ...seconds) * FRAMES_PER_SECOND;
    return frame < until ? flickerOf(chance) : 1;
  };
};

const flickerOf = (chance: SimDraw): number => 0.5 * chance();

/** Off its heat sink it reads what it likes: the fans run up, and the light is cut long before it is hot. */
const sensorAdrift: PhysicalFault = {
  id: "heat-sensor-adrift",
  words: "thermal sensor off its heat sink, reads too hot",
  on: [],
  aside: false,
  troubles: (_build, chance) => {
    const opens = between(chance, 0.3, 0.5);
    return [
      { kind: "air", fan: ({ warmth }) => ({ loud: warmth > 0.15 ? 0.45 : 0, tick: 0, turning: true }) },
      { kind: "source", drops: ({ warmth }) => warmth > opens, strikes: ({ warmth }) => warmth < opens - 0.08 },
    ];
  },
};

/** Supply, joints and sensors, added last, without sight of the fault model's numbers; every third is kept aside. */
export const BAD_CONTACTS: readonly PhysicalFault[] = [
  linkLoose,
  cordNicked,
  screwInBase,
  capacitorSwollen,
  jointBurnt,
  sensorAdrift,
];
