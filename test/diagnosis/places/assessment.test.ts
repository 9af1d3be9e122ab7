import { expect, test } from "vitest";
import { assess, whereabouts } from "../../../src/diagnosis/places/assessment.ts";
import { watchOf } from "../../../src/diagnosis/places/watch.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { spot, stepOf } from "./kit/rig.ts";
import { KEEN, ordinary, watched } from "./kit/session.ts";

const FULL = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
const SLOW = stepOf("{ sweep: Pan, deg_per_s: 20, passes: 4 }");

test("silence is judged elsewhere", () => {
  expect(assess([watchOf(spot, FULL, "Pan", [])!])).toBeUndefined();
});

test("a place is found within its interval, the delay being lag and reaction together", () => {
  const found = assess(watched([FULL], { kind: "position", place: 90 }, KEEN));
  expect(found?.place?.interval?.low).toBeLessThan(90);
  expect(found?.place?.interval?.high).toBeGreaterThan(90);
  expect(found?.place?.midpoints).toMatchObject({ up: 5, down: 5 });
  expect(Math.abs(found!.place!.delay - 0.7)).toBeLessThan(0.1);
});

test("a press that fits no pass does not belong to the place, and each pass has one press at most", () => {
  const [watch] = watched([FULL], { kind: "position", place: 90 }, KEEN);
  const presses = [...watch!.presses, watch!.passes[2]!.begin + 1, watch!.presses[4]! + 0.35].sort((a, b) => a - b);
  const found = assess([{ ...watch!, presses }]);
  expect(presses).toHaveLength(12);
  expect(found?.spots).toHaveLength(10);
  expect(new Set(found?.spots.map(({ press }) => press)).size).toBe(10);
});

test("a press after the turn-round still belongs to the pass before it", () => {
  const found = assess(watched([FULL], { kind: "position", place: 250 }, KEEN));
  expect(found?.spots.filter(({ way }) => way === "up").every(({ place }) => place > 270)).toBe(true);
  expect(Math.abs(found!.place!.at - 250)).toBeLessThan(6);
});

test("the interval holds whatever is set and whoever watches, simulated, about as often as it says", () => {
  let [holds, runs] = [0, 0];
  for (let seed = 0; seed < 40; seed++) {
    const chance = chanceFrom(1000 + seed);
    const place = -200 + 400 * chance();
    const found = assess(watched([FULL], { kind: "position", place }, ordinary(chance), chance))?.place;
    if (!found?.interval) continue;
    runs++;
    if (found.interval.low <= place && found.interval.high >= place) holds++;
  }
  expect(runs).toBeGreaterThan(30);
  // 95 % and four binomial errors of so many runs.
  expect(holds / runs).toBeGreaterThan(0.95 - 4 * Math.sqrt((0.95 * 0.05) / runs));
});

test("a second speed adds play, and an interval where too few presses had none", () => {
  const few = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 6 }");
  const once = assess(watched([few], { kind: "position", place: 90 }, KEEN));
  expect(once?.place?.interval).toBeUndefined();
  expect(once?.place?.play).toBeUndefined();
  const twice = assess(watched([few, SLOW], { kind: "position", place: 90 }, KEEN));
  expect(twice!.place!.interval!.low).toBeLessThan(90);
  expect(twice!.place!.interval!.high).toBeGreaterThan(90);
  expect(Math.abs(twice!.place!.play!.play.value)).toBeLessThan(4);
});

test("an iris, whose percent fall as its value rises, is placed as well", () => {
  const sweep = stepOf("{ sweep: Iris, seconds: 5, passes: 10 }");
  const found = assess(watched([sweep], { kind: "position", place: 60 }, { ...KEEN, lag: 0 }, chanceFrom(3), "Iris"));
  expect(found?.settled?.pattern.kind).toBe("position");
  expect(Math.abs(found!.place!.at - 60)).toBeLessThan(3);
  expect(found!.place!.delay).toBeGreaterThan(0.2);
});

test("the place to go back to lies within its interval; without a settled place there is none", () => {
  const spotted = whereabouts(assess(watched([FULL], { kind: "position", place: 90 }, KEEN))!)!;
  expect(spotted.low).toBeLessThan(90);
  expect(spotted.high).toBeGreaterThan(90);
  expect(spotted.high - spotted.low).toBeLessThan(25);
  expect(whereabouts(assess(watched([FULL], { kind: "ends", low: true, high: false }, KEEN))!)).toBeUndefined();
});
