import { readdirSync } from "node:fs";
import { expect, test } from "vitest";
import { compile } from "../../src/plan/compile.ts";
import { shippedBench, shippedProfile, shippedSequence } from "../kit/shipped.ts";

const profiles = readdirSync("profiles").flatMap((file) => (file.endsWith(".yaml") ? [file.replace(".yaml", "")] : []));
const CHECK_IN = shippedSequence("check-in");

test.each(profiles)("the check-in moves every function of %s: what was never tested cannot be signed off", (name) => {
  const profile = shippedProfile(name);
  const moved = new Set(
    compile(profile, CHECK_IN, shippedBench()).steps.flatMap(({ fitted, functions }) => (fitted ? functions : [])),
  );
  const still = [...profile.functions.keys()].filter(
    (id) => !["Control1", "LampControl", "Fans"].includes(id) && !moved.has(id),
  );
  expect(still).toEqual([]);
});

/** The order of work on a bench: common practice, no source. */
test("outside before power, settings before sweeps, soak before warm, open after that, measured and up again at the end", () => {
  const order = [
    ...CHECK_IN.steps.map(({ id }, index) => ({ id, at: index + 0.5 })),
    ...CHECK_IN.byHand.map(({ id, before }, index) => ({ id, at: before + index / 100 - 0.4 })),
  ]
    .sort((a, b) => a.at - b.at)
    .map(({ id }) => id);
  const wanted = [
    "inspect-outside",
    "first-power-up",
    "settings",
    "identify-fixture",
    "pan-slow",
    "dot-snaps",
    "white-field",
    "in-and-out-shutter1",
    "soak-pan-tilt",
    "both-warm",
    "dot-again",
    "hold-point-opening",
    "inspect-proposed",
    "clean-due",
    "reading-earth-continuity",
    "hold-point-closing",
    "reading-electrical-safety",
    "last-power-up",
  ];
  expect(order.filter((id) => wanted.includes(id))).toEqual(wanted);
});
