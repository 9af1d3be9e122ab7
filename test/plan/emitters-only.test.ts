import { expect, test } from "vitest";
import { parseProfile } from "../../src/data/profile/parse.ts";
import { compile } from "../../src/plan/compile.ts";
import { darkened, sample } from "../../src/plan/sample.ts";
import { must, shippedBench, shippedSequence } from "../kit/shipped.ts";

/** A light that has neither shutter nor dimmer: its emitters at nothing are its dark. */
const par = must(
  parseProfile(
    "par.yaml",
    `profile: par
title: An invented light without a dimmer, 4 slots
slots: 4
power_up_s: 5
lamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }
functions:
  ColorAdd_R: { slots: [1], from_pct: 0, to_pct: 100, full_travel_s: 0.1 }
  ColorAdd_G: { slots: [2], from_pct: 0, to_pct: 100, full_travel_s: 0.1, cells: [[3]] }
  ColorAdd_B: { slots: [4], from_pct: 100, to_pct: 0, full_travel_s: 0.1 }
rest: {}
`,
  ),
);
const steps = compile(par, shippedSequence("quick"), shippedBench()).steps.filter(({ frames }) => frames > 0);
const DARK = [0, 0, 0, 255];

test("every step begins dark but for the emitter it judges, and is dark at once when the beam shuts", () => {
  for (const step of steps) {
    const judged = step.id === "sweep-coloraddb" ? [0, 0, 0, 0] : DARK;
    expect([...sample(par, step, 0)], step.id).toEqual(judged);
    expect([...darkened(par, sample(par, step, step.frames))], step.id).toEqual(DARK);
  }
});

test("each emitter is swept alone, the others dark", () => {
  const red = steps.find(({ id }) => id === "sweep-coloraddr");
  if (!red) throw new Error(`no step for the red emitter among ${steps.map(({ id }) => id).join(", ")}`);
  const frames = Array.from({ length: red.frames }, (_, n) => [...sample(par, red, n)]);
  expect(Math.max(...frames.map(([level]) => level ?? 0))).toBe(255);
  expect(frames.every(([, ...others]) => others.join() === DARK.slice(1).join())).toBe(true);
});
