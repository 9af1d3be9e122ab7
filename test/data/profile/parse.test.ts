import { expect, test } from "vitest";
import { parseProfile } from "../../../src/data/profile/parse.ts";
import { physicalOf, rawOf, type Travel } from "../../../src/data/profile/profile.ts";
import { tellProblems } from "../../../src/domain/problem/problem.ts";
import { must, shippedProfile } from "../../kit/shipped.ts";

const SMALL = `profile: small
title: Small
slots: 6
power_up_s: 10
lamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }
functions:
  Pan:      { slots: [1, 2], from_deg: -270, to_deg: 270, full_travel_s: 2.6 }
  Dimmer:   { slots: [3], from_pct: 0, to_pct: 100, full_travel_s: 0.3 }
  Shutter1: { slots: [4], bands: [{ from: 0, to: 31, is: closed }, { from: 32, to: 255, is: open }] }
  Gobo1:    { slots: [5], wheel: fixed, step_s: 0.2, positions: [{ at: 0, is: open }, { at: 20, is: one }] }
rest: { Shutter1: closed, Dimmer: 0 }
`;

const told = (text: string): string => {
  const result = parseProfile("small.yaml", text);
  return result.ok ? "" : tellProblems(result.problems);
};

test("the small profile of these tests is sound", () => {
  expect(told(SMALL)).toBe("");
});

test.each([
  {
    change: ["slots: [3]", "slots: [2]"],
    says: "small.yaml:8:23: slot 2 already belongs to Pan (pan)",
    because: "two functions cannot share a slot",
  },
  {
    change: ["slots: [5]", "slots: [7]"],
    says: "slot 7 is past the 6 slots of this mode",
    because: "a function lies within the mode",
  },
  {
    change: ["{ from: 32, to: 255, is: open }", "{ from: 30, to: 255, is: open }"],
    says: "overlaps the band 0 to 31",
    because: "a level means one thing",
  },
  {
    change: ["{ from: 32, to: 255, is: open }", "{ from: 31, to: 255, is: open }"],
    says: "overlaps the band 0 to 31",
    because: "one level in two bands is enough",
  },
  {
    change: ["{ from: 32, to: 255, is: open }", "{ from: 255, to: 32, is: open }"],
    says: "runs backwards, from 255 to 32",
    because: "a band has a low and a high end",
  },
  {
    change: ["{ at: 20, is: one }", "{ at: 0, is: one }"],
    says: "position at 0 does not come after the one at 0",
    because: "positions stand in order",
  },
  { change: ["to_deg: 270", "to_deg: -270"], says: "both ends are the same place", because: "a travel has two ends" },
  {
    change: ["rest: { Shutter1: closed", "rest: { Shutter1: shut"],
    says: "not one of the known words",
    because: "rest speaks of known bands",
  },
  {
    change: ["rest: { Shutter1: closed", "rest: { Iris: 0"],
    says: "this fixture has no Iris",
    because: "rest speaks of functions that are there",
  },
  {
    change: ["is: closed", "is: out"],
    says: 'Shutter1 has no band "closed"',
    because: "rest speaks of bands that are there",
  },
  {
    change: ["Gobo1:  ", "Goob1:  "],
    says: '"Goob1" is not a known function (did you mean "Gobo1"?)',
    because: "functions are spelled as in GDTF",
  },
  {
    change: ["full_travel_s: 2.6", "full_travel_ms: 2600"],
    says: '"full_travel_ms" does not belong here',
    because: "units stand in the key",
  },
  { change: ["slots: [1, 2]", "slots: [1, 513]"], says: "it must be at most 512", because: "DMX512 has 512 slots" },
  {
    change: ["full_travel_s: 0.3 }", "full_travel_s: 0.3, cells: [[6], [4]] }"],
    says: "small.yaml:9:",
    because: "a further cell cannot share a slot either",
  },
  {
    change: ["full_travel_s: 0.3 }", "full_travel_s: 0.3, cells: [[7]] }"],
    says: "slot 7 is past the 6 slots of this mode",
    because: "further cells lie within the mode",
  },
  {
    change: ["full_travel_s: 0.3 }", "full_travel_s: 0.3, cells: [[6, 5]] }"],
    says: "a cell takes 1 slot, as the first does",
    because: "cells that are driven alike are built alike",
  },
  {
    change: ["profile: small", "profile: Small One"],
    says: "small letters, digits and hyphens only",
    because: "a profile's name is a file name",
  },
])("$because", ({ change: [from = "", to = ""], says }) => {
  expect(SMALL).toContain(from);
  expect(told(SMALL.replace(from, to))).toContain(says);
});

test.each([
  {
    from: "to_deg: 270, full",
    to: "to_deg: 270, to_raw: 65536, full",
    says: "65536 is more than 2 slots hold, 65535",
    because: "an end lies within its slots",
  },
  {
    from: "to_deg: 270, full",
    to: "to_deg: 270, from_raw: 300, to_raw: 300, full",
    says: "does not come before the other end at 300",
    because: "a travel has a low and a high end",
  },
  {
    from: "rest:",
    to: "held: [{ slots: [4], at: 1, is: colour macro }]\nrest:",
    says: "slot 4 already belongs to Shutter1 (shutter)",
    because: "what a function moves is not held",
  },
  {
    from: "rest:",
    to: "held: [{ slots: [6], at: 256, is: colour macro }]\nrest:",
    says: "256 is more than one slot holds, 255",
    because: "a held value fits its slots",
  },
  {
    from: "rest:",
    to: "held: [{ slots: [6, 7], at: 1, is: colour macro }]\nrest:",
    says: "slot 7 is past the 6 slots of this mode",
    because: "a held slot lies within the mode",
  },
])("$because", ({ from, to, says }) => {
  expect(told(SMALL.replace(from, to))).toContain(says);
});

test("a travel that shares its slot stays between its raw ends, wherever it is told to go", () => {
  const text = SMALL.replace(
    "Dimmer:   { slots: [3], from_pct: 0, to_pct: 100, full",
    "Dimmer:   { slots: [3], from_pct: 0, to_pct: 100, from_raw: 8, to_raw: 191, full",
  );
  const dimmer = must(parseProfile("small.yaml", text)).functions.get("Dimmer") as Travel;
  expect([-10, 0, 50, 100, 1000].map((value) => rawOf(dimmer, value))).toEqual([8, 8, 100, 191, 191]);
  expect([8, 191].map((raw) => physicalOf(dimmer, raw))).toEqual([0, 100]);
});

test("a profile that cannot go dark is refused", () => {
  const text = SMALL.replace(/^ {2}(Dimmer|Shutter1).*\n/gm, "").replace(
    "rest: { Shutter1: closed, Dimmer: 0 }",
    "rest: {}",
  );
  expect(told(text)).toContain("no way to go dark");
});

test("slots that clash are told together with a function that is ill formed", () => {
  const text = told(SMALL.replace("slots: [3]", "slots: [2]").replace("wheel: fixed", "wheel: fixd"));
  expect(text).toContain("slot 2 already belongs to Pan");
  expect(text).toContain('did you mean "fixed"');
});

test.each([
  { raw: 0, degrees: -270 },
  { raw: 32767, degrees: -0.00412 },
  { raw: 32768, degrees: 0.00412 },
  { raw: 65535, degrees: 270 },
])(
  "16-bit pan of -270 to 270 stands at $degrees degrees at raw $raw (worked from DIN SPEC 15800's linear scale)",
  ({ raw, degrees }) => {
    const pan = shippedProfile("spot-16bit").functions.get("Pan") as Travel;
    expect(physicalOf(pan, raw)).toBeCloseTo(degrees, 5);
    expect(rawOf(pan, physicalOf(pan, raw))).toBe(raw);
  },
);

test("a travel that runs backwards maps its ends as written", () => {
  const iris = shippedProfile("spot-16bit").functions.get("Iris") as Travel;
  expect([rawOf(iris, 100), rawOf(iris, 5)]).toEqual([0, 255]);
});

test("at rest every shipped profile is dark, and stands mid-travel", () => {
  for (const name of ["spot-16bit", "spot-8bit"]) {
    const profile = shippedProfile(name);
    expect(profile.rest.get("Dimmer")).toBe(0);
    expect(profile.rest.get("Shutter1")).toBeLessThanOrEqual(31);
    const pan = profile.functions.get("Pan") as Travel;
    expect(Math.abs(physicalOf(pan, profile.rest.get("Pan") ?? 0))).toBeLessThan(2);
  }
});
