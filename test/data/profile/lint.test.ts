import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { lint, PROFILE_RULES } from "../../../src/data/profile/lint/lint.ts";
import { readProfile } from "../../../src/data/profile/parse.ts";
import { RULE_NAMES, type RuleName } from "../../../src/data/profile/schema.ts";
import { type TextPlace, tellDoubts } from "../../../src/domain/problem/problem.ts";
import { must, shippedText } from "../../kit/shipped.ts";

/** A short profile in which nothing is doubtful, with one function of every kind. */
const SOUND = `profile: sound
title: Sound, 14 slots
slots: 14
power_up_s: 40
running_a: 4
lamp: { kind: discharge, strike_s: 6, warm_s: 150, restrike_s: 480 }
functions:
  Pan:      { slots: [1, 2], from_deg: -270, to_deg: 270, full_travel_s: 2.6, lag_s: 0.3 }
  Tilt:     { slots: [3, 4], from_deg: -135, to_deg: 135, full_travel_s: 1.6, lag_s: 0.3 }
  Dimmer:   { slots: [5], from_pct: 0, to_pct: 100, full_travel_s: 0.3 }
  Shutter1:
    slots: [6]
    move_s: 0.1
    bands:
      - { from: 0, to: 31, is: closed }
      - { from: 32, to: 63, is: open }
      - { from: 64, to: 255, is: strobe, from_hz: 0.5, to_hz: 15 }
  Gobo1:
    slots: [7]
    wheel: rotating
    step_s: 0.15
    positions: [{ at: 0, is: open }, { at: 20, is: one }, { at: 40, is: two }, { at: 60, is: three }, { at: 80, is: four }]
  Gobo1Pos:
    slots: [8]
    bands:
      - { from: 0, to: 127, is: index, from_deg: 0, to_deg: 360 }
      - { from: 128, to: 255, is: turn, from_rpm: 60, to_rpm: 1 }
  Zoom:     { slots: [9, 10], from_deg: 8, to_deg: 42, full_travel_s: 1.2 }
  Focus1:   { slots: [11], from_pct: 0, to_pct: 100, full_travel_s: 1.2, sharp_pct: 55 }
  Blade1A:  { slots: [12], from_pct: 0, to_pct: 100, full_travel_s: 0.4 }
  Blade1B:  { slots: [13], from_pct: 0, to_pct: 100, full_travel_s: 0.4 }
  Control1:
    slots: [14]
    rest: 0
    commands:
      - { is: reset, at: 210, hold_s: 5, then_s: 40 }
      - { is: lamp-on, at: 130, hold_s: 5, then_s: 0 }
rest: { Shutter1: closed, Dimmer: 0 }
`;

const doubtsIn = (text: string, source = "sound.yaml") => lint(must(readProfile(source, text)));

test("in the sound profile of these tests nothing is doubtful", () => {
  expect(tellDoubts(doubtsIn(SOUND))).toBe("");
});

/** What is underlined. */
const marked = (place: TextPlace | undefined) => [
  place?.line,
  place?.text.slice(place.column - 1).slice(0, place.length),
];

/** For every rule what somebody may write, what is then underlined in which line, and what is proposed. */
const SLIPS: Readonly<
  Record<
    RuleName,
    {
      write: readonly [string, string];
      also?: readonly [string, string];
      at: readonly [line: number, marked: string];
      instead: string;
    }
  >
> = {
  "slots-without-function": {
    write: ["Zoom:     { slots: [9, 10]", "Zoom:     { slots: [9]"],
    at: [28, "[9]"],
    instead: "slots: [9, 10] if the chart calls slot 10 fine",
  },
  "fine-slot-far": {
    write: ["Pan:      { slots: [1, 2]", "Pan:      { slots: [1, 2, 15]"],
    also: ["14 slots\nslots: 14", "15 slots\nslots: 15"],
    at: [8, "15"],
    instead: "the slot that the chart calls fine, often [1, 2]",
  },
  "fine-slot-first": { write: ["slots: [3, 4]", "slots: [4, 3]"], at: [9, "[4, 3]"], instead: "coarse first: [3, 4]" },
  "shutter-without-open": {
    write: ["is: open }\n      - { from: 64", "is: nothing }\n      - { from: 64"],
    at: [15, "- { from: 0, to: 31, is: closed }"],
    instead: "is: open",
  },
  "shutter-without-closed": {
    write: ["is: closed }", "is: nothing }"],
    also: ["rest: { Shutter1: closed,", "rest: { Shutter1: 0,"],
    at: [15, "- { from: 0, to: 31, is: nothing }"],
    instead: "is: closed",
  },
  "levels-without-band": {
    write: ["from: 64, to: 255", "from: 65, to: 255"],
    at: [14, "bands"],
    instead: "{ from: 64, to: 64, is: nothing }",
  },
  "strobe-without-speed": {
    write: [", from_hz: 0.5, to_hz: 15", ""],
    at: [17, "{ from: 64, to: 255, is: strobe }"],
    instead: "from_hz: 0.5, to_hz: 15",
  },
  "strobe-too-fast": {
    write: ["to_hz: 15", "to_hz: 900"],
    at: [17, "{ from: 64, to: 255, is: strobe, from_hz: 0.5, to_hz: 900 }"],
    instead: "15 if the chart counts them by the minute",
  },
  "turn-without-speed": {
    write: [", from_rpm: 60, to_rpm: 1", ""],
    at: [27, "{ from: 128, to: 255, is: turn }"],
    instead: "from_rpm: 60, to_rpm: 1",
  },
  "turn-too-fast": {
    write: ["from_rpm: 60", "from_rpm: -360"],
    at: [27, "{ from: 128, to: 255, is: turn, from_rpm: -360, to_rpm: 1 }"],
    instead: "60 if the chart counts degrees a second",
  },
  "index-without-angle": {
    write: [", from_deg: 0, to_deg: 360", ""],
    at: [26, "{ from: 0, to: 127, is: index }"],
    instead: "from_deg: 0, to_deg: 360",
  },
  "degrees-too-many": {
    write: ["to_deg: 270", "to_deg: 2700"],
    at: [8, "2700"],
    instead: "at most 720 from end to end",
  },
  "degrees-too-few": {
    write: ["from_deg: -135, to_deg: 135", "from_deg: -2.36, to_deg: 2.36"],
    at: [9, "2.36"],
    instead: "a radian 57.3",
  },
  "zero-at-an-end": {
    write: ["from_deg: -270, to_deg: 270", "from_deg: 0, to_deg: 540"],
    at: [8, "0"],
    instead: "from_deg: -270, to_deg: 270",
  },
  "zoom-angle": {
    write: ["from_deg: 8, to_deg: 42", "from_deg: 0, to_deg: 255"],
    at: [28, "0"],
    instead: "from_deg: 8, to_deg: 42",
  },
  "percent-as-share": {
    write: ["Dimmer:   { slots: [5], from_pct: 0, to_pct: 100", "Dimmer:   { slots: [5], from_pct: 0, to_pct: 1"],
    at: [10, "1"],
    instead: "from_pct: 0, to_pct: 100",
  },
  milliseconds: {
    write: ["full_travel_s: 1.6", "full_travel_s: 1600"],
    at: [9, "1600"],
    instead: "full_travel_s: 1.6 if these are milliseconds",
  },
  "too-quick": {
    write: ["full_travel_s: 2.6", "full_travel_s: 0.26"],
    at: [8, "0.26"],
    instead: "from one end to the other",
  },
  "lag-missing": {
    write: ["full_travel_s: 1.6, lag_s: 0.3", "full_travel_s: 1.6"],
    at: [9, "Tilt"],
    instead: "lag_s: 0.3",
  },
  "move-time-missing": { write: ["    move_s: 0.1\n", ""], at: [11, "Shutter1"], instead: "move_s: 0.1 for a shutter" },
  "lamp-times-missing": { write: ["warm_s: 150", "warm_s: 0"], at: [6, "0"], instead: "warm_s: 150" },
  "power-up-too-short": {
    write: ["power_up_s: 40", "power_up_s: 0.75"],
    at: [4, "0.75"],
    instead: "45 if these are minutes",
  },
  "reset-too-short": { write: ["then_s: 40", "then_s: 0"], at: [36, "0"], instead: "then_s: 40" },
  "commands-alike": { write: ["at: 130", "at: 210"], at: [37, "210"], instead: "the middle of the chart's range" },
  "position-names-alike": { write: ["is: three", "is: One"], at: [22, "One"], instead: '"One 2"' },
  "wheel-without-open": {
    write: ["{ at: 0, is: open }", "{ at: 0, is: white }"],
    at: [22, "{ at: 0, is: white }"],
    instead: 'here "white"?',
  },
  "wheel-kind-odd": {
    write: ["wheel: rotating", "wheel: effect"],
    at: [20, "effect"],
    instead: "wheel: fixed or rotating",
  },
  "positions-uneven": { write: ["at: 40", "at: 46"], at: [22, "46"], instead: "at: 40" },
  "first-position-late": { write: ["{ at: 0, is: open }", "{ at: 10, is: open }"], at: [22, "10"], instead: "at: 0" },
  "rest-not-dark": {
    write: ["Shutter1: closed, Dimmer: 0", "Shutter1: open, Dimmer: 128"],
    at: [38, "rest"],
    instead: "Shutter1: closed",
  },
  "rest-left-unsaid": { write: ["closed, Dimmer: 0", "closed"], at: [38, "rest"], instead: "Dimmer: 0" },
  "rest-on-a-command": {
    write: ["rest: 0\n", "rest: 128\n"],
    at: [34, "128"],
    instead: 'the level that the chart calls "no function"',
  },
  "focus-without-sharp": { write: [", sharp_pct: 55", ""], at: [29, "Focus1"], instead: "sharp_pct: 55" },
  "rotation-without-carrier": {
    write: ["wheel: rotating", "wheel: fixed"],
    at: [23, "Gobo1Pos"],
    instead: "Gobo1 with wheel: rotating",
  },
  "partner-missing": { write: ["  Blade1B: ", "  Frost1: "], at: [30, "Blade1A"], instead: "the slots of Blade1B" },
  "title-says-other": {
    write: ["Sound, 14 slots", "Sound, 16 channels"],
    at: [2, "Sound, 16 channels"],
    instead: "Sound, 14 channels",
  },
  "name-not-file": { write: ["profile: sound", "profile: noise"], at: [1, "noise"], instead: "profile: sound" },
  "current-too-high": { write: ["running_a: 4", "running_a: 920"], at: [5, "920"], instead: "4 if these are watts" },
};

describe.each(PROFILE_RULES)("$name: $why", ({ name, why }) => {
  const { write, also, at, instead } = SLIPS[name];
  const doubtful = [write, ...(also ? [also] : [])].reduce((text, [from, to]) => {
    expect(text).toContain(from);
    return text.replace(from, to);
  }, SOUND);

  test("is said at its place, with what to write instead", () => {
    const doubts = doubtsIn(doubtful).filter(({ rule }) => rule === name);
    expect(doubts.map(({ problem: { place } }) => marked(place))).toEqual([at]);
    expect(doubts[0]?.problem.hint).toContain(instead);
    expect(why).toMatch(/^[A-Z][^.]*\.$/);
  });

  test("is not said where the file allows it with a reason", () => {
    const allowing = `${doubtful}allow: { ${name}: the chart says so }\n`;
    expect(doubtsIn(allowing).filter(({ rule }) => rule === name)).toEqual([]);
    expect(doubtsIn(allowing).filter(({ rule }) => rule === "allow")).toEqual([]);
  });
});

test("thirty-five flashes a second are the most that a strobe is taken to make", () => {
  const told = (hertz: number) => doubtsIn(SOUND.replace("to_hz: 15", `to_hz: ${hertz}`)).map(({ rule }) => rule);
  expect([told(35), told(35.1)]).toEqual([[], ["strobe-too-fast"]]);
});

test("every name has its rule, in the same order", () => {
  expect(PROFILE_RULES.map(({ name }) => name)).toEqual(RULE_NAMES);
});

test("an exception that nothing needs is doubtful itself", () => {
  const [doubt] = doubtsIn(`${SOUND}allow: { milliseconds: the chart says so }\n`);
  expect(doubt).toMatchObject({ rule: "allow", problem: { place: { line: 39, column: 10 } } });
});

test("an exception needs a known rule and a reason", () => {
  const wrong = readProfile("sound.yaml", `${SOUND}allow: { millisecond: the chart says so }\n`);
  expect(wrong.ok || wrong.problems[0]).toMatchObject({ message: '"millisecond" does not belong here' });
  expect(readProfile("sound.yaml", `${SOUND}allow: { milliseconds: yes }\n`).ok).toBe(false);
});

test("a doubt as it is told", () => {
  expect(tellDoubts(doubtsIn(SOUND.replace("full_travel_s: 1.6, lag", "full_travel_s: 1600, lag")))).toBe(
    [
      "sound.yaml:9:74: 1600 seconds, longer than anything of the kind takes (full_travel_s: 1.6 if these are milliseconds)",
      "    Tilt:     { slots: [3, 4], from_deg: -135, to_deg: 135, full_travel_s: 1600, lag_s: 0.3 }",
      `  ${" ".repeat(73)}^^^^`,
      "  A run waits as long as the profile says, and calls a fixture quick that is not. [milliseconds]",
    ].join("\n"),
  );
});

const shipped = readdirSync("profiles").filter((name) => name.endsWith(".yaml"));
test.each(shipped)("nothing is doubtful in profiles/%s", (name) => {
  expect(tellDoubts(doubtsIn(shippedText(`profiles/${name}`), name))).toBe("");
});
