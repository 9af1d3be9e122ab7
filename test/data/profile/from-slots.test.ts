import fc from "fast-check";
import { expect, test } from "vitest";
import { type DescribedMode, profileFromSlots, type SlotDescription } from "../../../src/data/profile/from-slots.ts";
import { lint } from "../../../src/data/profile/lint/lint.ts";
import { readProfile } from "../../../src/data/profile/parse.ts";
import { must } from "../../kit/shipped.ts";

/** Labels of ANSI E1.20, table C-2; an invented head. */
const primary = (offset: number, label: number, more: Partial<SlotDescription> = {}): SlotDescription => ({
  offset,
  type: 0,
  label,
  words: undefined,
  usual: undefined,
  ...more,
});
const fine = (offset: number, of: number): SlotDescription => primary(offset, of, { type: 1 });
const HEAD: DescribedMode = {
  fixture: "Sample head",
  mode: "16 bit",
  slots: 11,
  described: [
    primary(0, 0x0101),
    fine(1, 0),
    primary(2, 0x0102),
    fine(3, 2),
    primary(4, 0x0001),
    primary(5, 0x0404, { words: "Strobe", usual: 32 }),
    primary(6, 0x0202),
    primary(7, 0x0204),
    primary(8, 0x0203),
    primary(9, 0x0302, { words: "Gobos" }),
  ],
};

test("a draft says what moves, what is held and why, and what is to be measured", () => {
  expect(must(profileFromSlots("RDM", HEAD)).text).toBe(`# yaml-language-server: $schema=./profile.schema.json
# Drafted by Limber from what Sample head says of its slots over RDM, mode 16 bit.
# RDM tells what a slot is for; ranges, times, bands and positions are not in it: measure, and add them from the chart.
profile: sample-head-16-bit
title: "Sample head, 16 bit, 11 slots"
fixture: sample-head
slots: 11
power_up_s: 45   # not said over RDM, measure
lamp: { kind: discharge, strike_s: 6, warm_s: 150, restrike_s: 480 }   # not said over RDM, measure
functions:
  Pan:        { slots: [1, 2], from_deg: -270, to_deg: 270, full_travel_s: 2.6, lag_s: 0.2 }   # not said over RDM, measure: ends and full_travel_s
  Tilt:       { slots: [3, 4], from_deg: -135, to_deg: 135, full_travel_s: 1.6, lag_s: 0.2 }   # not said over RDM, measure: ends and full_travel_s
  Dimmer:     { slots: [5], from_pct: 0, to_pct: 100, full_travel_s: 0.5 }   # not said over RDM, measure: ends and full_travel_s
  ColorSub_C: { slots: [7], from_pct: 0, to_pct: 100, full_travel_s: 0.5 }   # not said over RDM, measure: ends and full_travel_s
  ColorSub_M: { slots: [8], from_pct: 0, to_pct: 100, full_travel_s: 0.5 }   # not said over RDM, measure: ends and full_travel_s
  ColorSub_Y: { slots: [9], from_pct: 0, to_pct: 100, full_travel_s: 0.5 }   # not said over RDM, measure: ends and full_travel_s
rest: { Dimmer: 0 }
held:
  - { slots: [6], at: 32, is: "\\"Strobe\\": RDM does not say which level does what" }
  - { slots: [10], at: 0, is: "\\"Gobos\\": RDM does not say which level does what" }
  - { slots: [11], at: 0, is: the fixture does not say what it is }
`);
});

test("every slot is driven or held, and the profile check takes the draft", () => {
  const { text, name, driven, held } = must(profileFromSlots("RDM", HEAD));
  expect([driven, held, driven + held]).toEqual([8, 3, HEAD.slots]);
  expect(lint(must(readProfile(`${name}.yaml`, text)))).toEqual([]);
});

test("three colours and no dimmer are dark at nothing, and make an LED light of it", () => {
  const described = [primary(0, 0x0205), primary(1, 0x0206), primary(2, 0x0207, { usual: 255 })];
  const { text } = must(profileFromSlots("RDM", { ...HEAD, slots: 3, described }));
  expect(text).toContain("lamp: { kind: led");
});

test("the same colour of further cells is driven with the first", () => {
  const described = [primary(0, 0x0205), primary(1, 0x0205), primary(2, 0x0205)];
  expect(must(profileFromSlots("RDM", { ...HEAD, slots: 3, described })).text).toContain("cells: [[2], [3]]");
});

test.each([
  {
    described: [primary(0, 0x0301)],
    says: "none of its slots is a light, a colour or a movement",
    because: "gobos alone",
  },
  { described: [primary(0, 0x0101)], says: "no way to go dark", because: "pan alone cannot go dark" },
  { described: [], says: "none of its slots", because: "a fixture may say nothing" },
])("$because: no draft", ({ described, says }) => {
  const made = profileFromSlots("RDM", { ...HEAD, described });
  expect(made.ok ? "" : made.problems.map(({ message }) => message).join()).toContain(says);
});

test("whatever a fixture says, a draft is refused or can be used", () => {
  const slot = fc.record({
    offset: fc.integer({ min: 0, max: 600 }),
    type: fc.constantFrom(0, 0, 0, 1, 5, 255),
    label: fc.oneof(
      fc.constantFrom(1, 2, 0x101, 0x102, 0x205, 0x206, 0x401, 0x405),
      fc.integer({ min: 0, max: 65535 }),
    ),
    words: fc.option(fc.string(), { nil: undefined }),
    usual: fc.option(fc.integer({ min: 0, max: 255 }), { nil: undefined }),
  });
  const mode = fc.record({
    fixture: fc.string(),
    mode: fc.string(),
    slots: fc.integer({ min: 1, max: 512 }),
    described: fc.array(slot, { maxLength: 30 }),
  });
  fc.assert(
    fc.property(mode, (said) => {
      const made = profileFromSlots("RDM", said);
      if (made.ok) expect(must(readProfile(`${made.value.name}.yaml`, made.value.text)).written.slots).toBe(said.slots);
    }),
    { numRuns: 60 },
  );
});
