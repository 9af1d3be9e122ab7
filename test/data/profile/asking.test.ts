import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { standing } from "../../../src/data/profile/asking/ask.ts";
import { heardLine, type Interview, interview } from "../../../src/data/profile/asking/interview.ts";
import { lint } from "../../../src/data/profile/lint/lint.ts";
import { readProfile } from "../../../src/data/profile/parse.ts";
import { profileText } from "../../../src/data/profile/write.ts";
import { must } from "../../kit/shipped.ts";

/** Types lines until they are used up; a line that is not understood stops the test. */
const typed = (...lines: readonly string[]): Interview =>
  lines.reduce<Interview>((now, line) => {
    const said = heardLine(undefined, now, line);
    if (said.kind === "not-understood") throw new Error(`"${line}": ${said.words}`);
    return said.interview;
  }, interview(undefined));

const asked = (now: Interview) => {
  if (now.kind !== "asking") throw new Error("nothing is asked any more");
  return now.asked;
};
const guessAfter = (...lines: readonly string[]) => asked(typed(...lines)).question.guess;
const textOf = (now: Interview): string => {
  if (now.kind !== "told") throw new Error(`still asked: ${asked(now).question.words}`);
  return profileText(now.charted.file, { ...now.charted.remarks, schema: "./profile.schema.json" });
};

const FRAME = ["small-wash", "Small wash", "basic", "8", "", "led"];

test("a chart of eight slots, told slot by slot, is a profile with comments in which nothing is doubtful", () => {
  const told = typed(
    ...FRAME,
    ...["", "540", "2,4"],
    ...["tilt", "-120 to 120", ""],
    ...["", "0-15 closed", "16-47 open", "220 strobe 0.5 20", ""],
    ...["", "", "0.05"],
    ...["ColorAdd_R"],
    ...[""],
    ...[""],
    ...["other", "colour macro", "10"],
  );
  expect(textOf(told)).toBe(`# yaml-language-server: $schema=./profile.schema.json
# Typed from the chart in the manual. Verify it on the fixture: limber profile verify FILE --output ...
profile: small-wash
fixture: Small wash
title: "Small wash, basic, 8 slots"
slots: 8
power_up_s: 45
lamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }
functions:
  Pan:        { slots: [1], from_deg: -270, to_deg: 270, full_travel_s: 2.4, lag_s: 0.3 }
  Tilt:       { slots: [2], from_deg: -120, to_deg: 120, full_travel_s: 1.6, lag_s: 0.3 }   # time guessed, not measured
  Shutter1:
    slots: [3]
    move_s: 0.1
    bands:
      - { from: 0, to: 15, is: closed }
      - { from: 16, to: 47, is: open }
      - { from: 48, to: 220, is: strobe, from_hz: 0.5, to_hz: 20 }
      - { from: 221, to: 255, is: open }
  Dimmer:     { slots: [4], from_pct: 0, to_pct: 100, full_travel_s: 0.05 }
  ColorAdd_R: { slots: [5], from_pct: 0, to_pct: 100, full_travel_s: 0.05 }
  ColorAdd_G: { slots: [6], from_pct: 0, to_pct: 100, full_travel_s: 0.05 }
  ColorAdd_B: { slots: [7], from_pct: 0, to_pct: 100, full_travel_s: 0.05 }
rest: { Shutter1: closed, Dimmer: 0 }
held:
  - { slots: [8], at: 10, is: colour macro }
`);
  expect(lint(must(readProfile("small-wash.yaml", textOf(told))))).toEqual([]);
});

describe("what usually follows is guessed", () => {
  const PAN = ["pan", "", ""];
  const TILT = ["tilt", "", ""];
  const frame = (slots: string, lamp: string) => [
    "x",
    "X",
    "",
    slots,
    "",
    ...lamp.split(" ").map((one) => (one === "ENTER" ? "" : one)),
  ];
  const LONG = frame("30", "led");
  const LAMP = frame("30", "discharge ENTER ENTER ENTER");

  test.each([
    { after: [...LONG], guess: "pan", because: "charts begin with pan" },
    { after: [...LONG, ...PAN], guess: "pan fine", because: "the fine slot stands beside its coarse one" },
    { after: [...LONG, ...PAN, ""], guess: "tilt", because: "tilt comes after pan" },
    { after: [...LONG, ...PAN, "", ...TILT], guess: "tilt fine", because: "tilt has what pan has" },
    { after: [...LONG, ...PAN, ...TILT], guess: "shutter", because: "with pan in one slot tilt is in one" },
    { after: [...LONG, ...PAN, ...TILT, "dimmer", "", ""], guess: "red emitter", because: "LEDs have emitters" },
    { after: [...LAMP, ...PAN, ...TILT, "dimmer", "", ""], guess: "cyan", because: "a lamp has flags" },
    {
      after: [...LONG, ...PAN, ...TILT, "cyan", "", ""],
      guess: "magenta",
      because: "flags come together, before LEDs too",
    },
    {
      after: [...frame("4", "led"), ...PAN, ...TILT, "dimmer", "", ""],
      guess: "control",
      because: "the control slot is the last",
    },
    { after: [...frame("3", "led"), ...PAN, ...TILT], guess: "shutter", because: "first of all it must go dark" },
    { after: [...LONG, "zoom"], guess: "8 to 42", because: "a zoom has beam angles" },
    { after: [...LONG, "shutter", "15 closed"], guess: "63 open", because: "open follows closed" },
    { after: [...LONG, "colour wheel", "", "16 red"], guess: "done", because: "a wheel may end after two positions" },
    { after: [...LONG, "cyan", "", "0.7", "magenta", ""], guess: "0.7", because: "flags are built alike" },
  ])("$guess: $because", ({ after, guess }) => {
    expect(guessAfter(...after)).toBe(guess);
  });
});

test("a name alone is the next position, as far on as the one before", () => {
  const now = typed(...FRAME, "colour wheel", "", "16 red", "blue", "done", "");
  expect(standing(asked(now).draft)).toContain("        1  colour wheel, 0 open, 16 red, 32 blue");
});

test("a fine slot may come later, as where pan and tilt have their fine slots after both", () => {
  const now = typed(...FRAME, "pan", "", "", "tilt", "", "", "pan fine", "tilt fine");
  expect(standing(asked(now).draft).slice(1)).toEqual([
    "      1+3  pan, -270 to 270 degrees in 2.6 s",
    "      2+4  tilt, -135 to 135 degrees in 1.6 s",
  ]);
});

test.each([
  { after: [], line: "Small Wash", says: '"Small Wash" is not a name', because: "a profile's name is a file name" },
  { after: ["x"], line: "", says: "please answer", because: "nobody can guess what fixture it is" },
  { after: ["x", "X", ""], line: "513", says: "not a whole number from 1 to 512", because: "DMX512 has 512 slots" },
  { after: FRAME, line: "dimer", says: 'did you mean "dimmer"?', because: "functions are a closed list" },
  {
    after: FRAME,
    line: "wheel",
    says: "colour wheel, colour wheel 2, gobo wheel 1",
    because: "a part of a name lists those it is in",
  },
  { after: FRAME, line: "fine", says: "nothing called", because: "a fine slot needs its coarse one" },
  {
    after: [...FRAME, "pan", "", ""],
    line: "pan",
    says: "pan has its slot already",
    because: "a function begins once",
  },
  {
    after: [...FRAME, "shutter", "", "", "", ""],
    line: "shutter fine",
    says: "shutter has no fine slot",
    because: "bands have none",
  },
  { after: [...FRAME, "pan"], line: "270", says: undefined, because: "one number is the whole travel of an axis" },
  { after: [...FRAME, "zoom"], line: "42", says: "is not two ends", because: "a zoom has two angles" },
  { after: [...FRAME, "dimmer"], line: "0 255", says: "not two ends from 0 to 100", because: "percent end at 100" },
  { after: [...FRAME, "pan", ""], line: "quick", says: "is not a number from", because: "time is a number" },
  { after: [...FRAME, "shutter"], line: "open", says: "is not a level and what it does", because: "a band has an end" },
  { after: [...FRAME, "shutter"], line: "63 opne", says: "not one of these", because: "bands have known meanings" },
  {
    after: [...FRAME, "shutter", "31 closed"],
    line: "20 open",
    says: "does not lie between 32 and 255",
    because: "bands do not overlap",
  },
  {
    after: [...FRAME, "shutter"],
    line: "99 strobe",
    says: "needs two more numbers",
    because: "a strobe has its speed",
  },
  {
    after: [...FRAME, "colour wheel", "", "16 red"],
    line: "9 blue",
    says: "does not lie between 17 and 255",
    because: "positions stand in order",
  },
])("$line: $because", ({ after, line, says }) => {
  const before = typed(...after);
  const said = heardLine(undefined, before, line);
  expect(said.kind === "not-understood" ? said.words : undefined).toEqual(
    says === undefined ? undefined : expect.stringContaining(says),
  );
});

/** What a person of few words types: the guess, or the least where there is none. */
const leastAt = (now: Interview, slots: number): string => {
  const { question } = asked(now);
  if (question.guess !== undefined) return "";
  return /slots does this mode/.test(question.words) ? String(slots) : /position/.test(question.words) ? "20 one" : "x";
};
const withGuesses = (slots: number, lamp: string): Interview => {
  let now = interview(undefined);
  while (now.kind === "asking") {
    const line = /light come from/.test(now.asked.question.words) ? lamp : leastAt(now, slots);
    const said = heardLine(undefined, now, line);
    if (said.kind === "not-understood") throw new Error(said.words);
    now = said.interview;
  }
  return now;
};

test("whoever takes every guess gets a profile that can be used, when there are slots enough for light", () => {
  fc.assert(
    fc.property(fc.integer({ min: 5, max: 60 }), fc.constantFrom("led", "discharge"), (slots, lamp) => {
      const read = readProfile("x.yaml", textOf(withGuesses(slots, lamp)));
      expect(read.ok || read.problems).toBe(true);
    }),
    { numRuns: 40 },
  );
});

test("back leaves out the last answer, from anywhere, and at the beginning does nothing", () => {
  const { answers } = withGuesses(16, "discharge");
  fc.assert(
    fc.property(fc.integer({ min: 0, max: answers.length }), (count) => {
      const before = interview(undefined, answers.slice(0, count));
      const back = heardLine(undefined, before, " back ");
      expect(back.kind === "on" && back.interview.answers).toEqual(answers.slice(0, Math.max(0, count - 1)));
    }),
  );
});

test("no line, however odd, breaks the conversation: it goes on, or says why not", () => {
  const { answers } = withGuesses(20, "led");
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: answers.length - 1 }),
      fc.oneof(fc.string(), fc.stringMatching(/^[-\d., a-z]{0,12}$/)),
      (count, line) => {
        const said = heardLine(undefined, interview(undefined, answers.slice(0, count)), line);
        if (said.kind === "not-understood") expect(said.words).not.toBe("");
      },
    ),
    { numRuns: 500 },
  );
});
