import { expect, test } from "vitest";
import { travelOf } from "../../../src/data/profile/profile.ts";
import { type Assessment, assess } from "../../../src/diagnosis/places/assessment.ts";
import { foundPlace } from "../../../src/diagnosis/places/found-place.ts";
import { placeStrip, placeStripRows } from "../../../src/diagnosis/places/strip.ts";
import { dmxWords, placeWords, reachWords, sayAssessment } from "../../../src/diagnosis/places/words.ts";
import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import type { Truth } from "./kit/presser.ts";
import { spot, stepOf } from "./kit/rig.ts";
import { KEEN, watched } from "./kit/session.ts";

const FULL = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
const FEW = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 6 }");
const SHORT = stepOf("{ short-sweep: Pan, deg_per_s: 60, passes: 6 }");
const SLOW = stepOf("{ sweep: Pan, deg_per_s: 20, passes: 4 }");
const travel = (id: FunctionId) => travelOf(spot, id)!;
const place90: Truth = { kind: "position", place: 90 };

test.each([
  { id: "Pan", place: 0, words: "at mid-travel (0 degrees)" },
  { id: "Pan", place: 90, words: "a quarter turn from mid-travel towards the high end (90 degrees)" },
  { id: "Pan", place: -176, words: "about half a turn from mid-travel towards the low end (-176 degrees)" },
  { id: "Pan", place: 20, words: "20 degrees from mid-travel towards the high end (20 degrees)" },
  { id: "Tilt", place: -45, words: "an eighth of a turn from mid-travel towards the low end (-45 degrees)" },
  { id: "Zoom", place: 31.2, words: "at 31 degrees" },
  { id: "Iris", place: 62, words: "at 62 %" },
] as const)("$id at $place is $words", ({ id, place, words }) => {
  expect(placeWords(id, travel(id), place)).toBe(words);
});

test("what faces one at mid-travel can be named", () => {
  expect(placeWords("Pan", travel("Pan"), -90, "the display side")).toBe(
    "a quarter turn from the display side towards the low end (-90 degrees)",
  );
});

test.each([
  { id: "Pan", place: 90, words: "DMX 43690 of 65535" },
  { id: "Iris", place: 100, words: "DMX 0 of 255" },
] as const)("the value to set for $id at $place is $words", ({ id, place, words }) => {
  expect(dmxWords(travel(id), place)).toBe(words);
});

test.each([
  { reach: 2.2, words: "3 degrees", because: "it never claims more than is known" },
  { reach: 0.31, words: "0.4 degrees", because: "small ones are told to a tenth" },
  { reach: 1, words: "1 degree", because: "one is one" },
])("plus or minus $words: $because", ({ reach, words }) => {
  expect(reachWords(travel("Pan"), reach)).toBe(words);
});

test("a settled place in words and as a strip", () => {
  const found = assess(watched([FULL], place90, KEEN))!;
  expect(sayAssessment("Pan", found)).toEqual([
    "both ways, a quarter turn from mid-travel towards the high end (92 degrees), plus or minus 8 degrees; DMX 43888 of 65535",
  ]);
  expect(rowsOf(found, 60)).toEqual([
    "                                       23                   ",
    "|--------------------------------------[]------------------|",
    "                                       23                   ",
    "-270 degrees              0 degrees              270 degrees",
  ]);
});

test("three presses each way: the place, and why it has no interval", () => {
  expect(sayAssessment("Pan", assess(watched([FEW], place90, KEEN))!)).toEqual([
    "both ways, a quarter turn from mid-travel towards the high end (92 degrees); DMX 43912 of 65535",
    "3 up and 3 down are too few presses to say how exactly: four each way are enough",
  ]);
});

test("two speeds say whether there is play", () => {
  expect(sayAssessment("Pan", assess(watched([FULL, SLOW], place90, KEEN))!)[1]).toBe("the two speeds show no play");
  const pressed = [1, -1].flatMap((way) =>
    [60, 20].flatMap((speed) => [-0.4, 0, 0.4].map((off) => ({ way, speed, off }))),
  );
  const found = foundPlace(
    pressed.map(({ way, speed, off }) => ({
      place: 90 + way * (2.5 + speed * 0.7) + off,
      velocity: way * speed,
      way: way > 0 ? "up" : "down",
      press: 0,
    })),
  );
  const settled = assess(watched([FULL], place90, KEEN))!;
  expect(sayAssessment("Pan", { ...settled, place: found })[1]).toBe(
    "the two speeds show play of about 5 degrees, plus or minus 1 degree",
  );
});

test.each([
  {
    truth: { kind: "one-way", place: -40, way: "down" },
    steps: [FULL, SHORT],
    said: "only on the way down (DMX falling), 32 degrees from mid-travel towards the low end (-32 degrees), plus or minus 22 degrees for how quick the presses were; DMX 28893 of 65535",
  },
  { truth: { kind: "ends", low: true, high: false }, steps: [FULL, SHORT], said: "only on coming to the low end" },
  {
    truth: { kind: "ends", low: true, high: true },
    steps: [FULL],
    said: "inconclusive: both ends, or the reversal",
  },
  { truth: { kind: "turn-rounds" }, steps: [FULL, SHORT], said: "whenever it reverses, wherever that is" },
] as const)("$truth.kind in words: $said", ({ truth, steps, said }) => {
  expect(sayAssessment("Pan", assess(watched(steps, truth, KEEN))!)).toEqual([said]);
});

test("an end that no sweep has stopped short of is not claimed, and what can tell is said", () => {
  expect(sayAssessment("Pan", assess(watched([FULL], { kind: "ends", low: true, high: false }, KEEN))!)).toEqual([
    "inconclusive: the low end",
    "only a sweep that stops short of the ends can tell",
  ]);
});

test("the strip of presses at one end only, with nothing marked before it is settled", () => {
  expect(rowsOf(assess(watched([FULL], { kind: "ends", low: true, high: false }, KEEN))!, 48)).toEqual([
    "                                                ",
    "|----------------------------------------------|",
    "5                                               ",
    "-270 degrees        0 degrees        270 degrees",
  ]);
});

test("a strip is as wide as asked, four rows, and has a tick for every press", () => {
  for (const width of [24, 40, 61, 76]) {
    const found = assess(watched([FULL], place90, KEEN))!;
    const rows = rowsOf(found, width);
    expect(rows.map((row) => row.length)).toEqual([width, width, width, width]);
    const count = (row: string) =>
      [...row].reduce((sum, cell) => sum + (cell === " " ? 0 : Number(cell) > 0 ? Number(cell) : 1), 0);
    expect(count(rows[0]!) + count(rows[2]!)).toBe(10);
  }
});

const rowsOf = (assessment: Assessment, width: number) => placeStripRows(placeStrip(assessment)!, width);
