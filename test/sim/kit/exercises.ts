import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import type { Pair } from "./drive.ts";

type Exercise = (pair: Pair) => void;

const has = (pair: Pair, id: FunctionId): boolean => pair.build.parts.some((part) => part.function === id);
const raw = (pair: Pair, id: FunctionId, levels: readonly number[], seconds: number): void => {
  for (const level of levels) {
    pair.raw = { ...pair.raw, [id]: level };
    pair.run(seconds);
  }
};
const both = (pair: Pair, at: number, seconds: number): void => {
  pair.shares = { ...pair.shares, Pan: at, Tilt: at };
  pair.run(seconds);
};

/** Movements that bring out what is wrong, each a few seconds long; a function the fixture lacks is left out. */
export const EXERCISES = {
  stand: (pair) => void pair.run(6),
  homing: (pair) => {
    raw(pair, "Control1", [210], 5.2);
    raw(pair, "Control1", [0], 60);
  },
  axes: (pair) => {
    for (const id of ["Pan", "Tilt"] as const) {
      pair.sweep(id, 0.5, 0, 3);
      pair.sweep(id, 0, 1, 5);
      pair.sweep(id, 1, 0.5, 3);
      pair.run(1);
    }
  },
  fast: (pair) => {
    for (const at of [0, 1, 0, 1, 0.5]) both(pair, at, 3.6);
  },
  snaps: (pair) => {
    for (const at of [0.53, 0.5, 0.53, 0.5, 0.47, 0.5]) both(pair, at, 2);
  },
  jolts: (pair) => {
    for (let n = 0; n < 8; n += 1) both(pair, n % 2 === 0 ? 0.7 : 0.5, 1.2);
  },
  wheels: (pair) => {
    for (const id of ["Color1", "Gobo2", "Gobo1", "AnimationWheel1"] as const)
      if (has(pair, id)) raw(pair, id, [12, 24, 36, 48, 60, 72, 84, 12, 0], 1.2);
  },
  turning: (pair) => {
    raw(pair, "Gobo1", [24], 1);
    raw(pair, "Prism1", [200], 1);
    for (const id of ["Gobo1Pos", "Prism1Pos"] as const) raw(pair, id, [0, 32, 96, 64, 0, 180, 140, 230, 0], 2);
  },
  flags: (pair) => {
    for (const id of ["ColorSub_C", "ColorSub_M", "ColorSub_Y", "CTO"] as const) {
      pair.sweep(id, 0, 1, 1.5);
      pair.run(0.5);
      pair.sweep(id, 1, 0, 1.5);
      pair.run(0.5);
    }
    for (const at of [1, 0]) {
      pair.shares = { ...pair.shares, ColorSub_C: at, ColorSub_M: at, ColorSub_Y: at };
      pair.run(1.5);
    }
  },
  lenses: (pair) => {
    for (const id of ["Zoom", "Focus1", "Iris"] as const) {
      const from = pair.shares[id] ?? 0;
      for (const at of [0, 1, from]) pair.go(id, at, 2.2);
      pair.sweep(id, from, 1, 2);
      pair.sweep(id, 1, from, 2);
      pair.run(1);
    }
  },
  tipped: (pair) => {
    pair.go("Tilt", 0.15, 3);
    EXERCISES.flags(pair);
    EXERCISES.lenses(pair);
    EXERCISES.inserts(pair);
    pair.go("Tilt", 0.5, 3);
  },
  inserts: (pair) => {
    for (const id of ["Prism1", "Frost1"] as const) raw(pair, id, [200, 0, 200, 0], 1.2);
    raw(pair, "Shutter1", [0, 40, 0, 40], 0.7);
    raw(pair, "Shutter1", [110], 3);
    raw(pair, "Shutter1", [40], 1);
  },
  blades: (pair) => {
    for (const id of ["Blade1A", "Blade3A"] as const) for (const at of [1, 0, 0.7]) pair.go(id, at, 2);
    pair.run(5);
  },
  ring: (pair) => {
    for (const at of [1, 0, 1]) pair.go("ShaperRot", at, 2);
  },
  emitters: (pair) => {
    for (const id of ["ColorAdd_R", "ColorAdd_G", "ColorAdd_B", "ColorAdd_W"] as const) {
      pair.go(id, 1, 2);
      pair.go(id, 0, 0.5);
    }
  },
  long: (pair) => void pair.run(120),
  longer: (pair) => void pair.run(260),
} as const satisfies Record<string, Exercise>;

export type ExerciseName = keyof typeof EXERCISES;
