import { expect, test } from "vitest";
import { parseSequence } from "../../../src/data/sequence/parse.ts";
import { secondsOf } from "../../../src/domain/units.ts";
import { compile } from "../../../src/plan/compile.ts";
import { emptyRun, type StepView } from "../../../src/run/events/view.ts";
import { secondPart, timesPart } from "../../../src/run/verification/steps.ts";
import { measuredIn, measuredInWords, spanWords } from "../../../src/run/verification/times.ts";
import { must, shippedBench, shippedProfile } from "../../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
const { steps } = compile(spot, must(parseSequence("proof.yaml", secondPart(spot) ?? "")), shippedBench());
const zoom = steps.findIndex(({ functions }) => functions[0] === "Zoom");
const starts = steps[zoom]!.moves.filter((move) => move.function === "Zoom").map(({ start }) => secondsOf(start));

/** A run in which somebody pressed so long after each start. */
const pressedAfter = (delays: readonly number[]) => ({
  ...emptyRun,
  steps: steps.map(
    ({ id, routine, functions }, index): StepView => ({
      id,
      routine,
      functions,
      fingerprint: "",
      attempt: 1,
      attempts: [],
      pace: 1,
      presses:
        index === zoom
          ? delays.map((delay, n) => ({
              frame: Math.round(((starts[n] ?? 0) + delay) * 40),
              after: (starts[n] ?? 0) + delay,
            }))
          : [],
      judged: undefined,
      judgedBy: 0,
    }),
  ) as never,
});

test("zoom goes from end to end and back, twice, and there is time to see it stand still", () => {
  expect(starts).toHaveLength(4);
  for (const [n, start] of starts.slice(1).entries()) expect(start - starts[n]!).toBeGreaterThan(2 * 1.2 + 1);
});

test("the travel time is from the start to the press, less lag and reaction; the spread has the doubt about the person in it", () => {
  const [measured] = measuredIn(spot, steps, pressedAfter([2.6, 2.6, 2.6, 2.6]));
  // 2.6 s less 0.4 s of a person of whom nothing is known and 0.2 s of lag; 1.96 x 0.075 s of doubt about the person.
  expect(measured).toEqual({ function: "Zoom", travel: 2, spread: 0.1, presses: 4, told: 1.2, key: "full_travel_s" });
  expect(measuredInWords(measured!)).toBe("zoom: 2 s, plus or minus 0.1 s, by 4 presses; the profile says 1.2 s");
});

test("a movement far quicker than the profile says is measured too: every press counts for the movement before it", () => {
  expect(measuredIn(spot, steps, pressedAfter([0.68, 0.68, 0.68, 0.68]))[0]).toMatchObject({ travel: 0.1, presses: 4 });
});

test("scattered presses are worth less, one alone says nothing of its spread, none nothing at all", () => {
  expect(measuredIn(spot, steps, pressedAfter([2.2, 2.6, 3.0, 2.6]))[0]!.spread).toBeGreaterThan(1);
  const [one] = measuredIn(spot, steps, pressedAfter([2.6]));
  expect(spanWords(one!)).toBe("2 s, by 1 press: too few to say how exactly");
  expect(measuredIn(spot, steps, pressedAfter([]))).toEqual([]);
});

const times = compile(spot, must(parseSequence("times.yaml", timesPart(spot) ?? "")), shippedBench()).steps;

test("all times of a spot that matter are measured in under five minutes, wheel by wheel", () => {
  expect(times.map(({ routine, functions }) => `${routine} ${functions.join()}`)).toEqual([
    "stopwatch Pan",
    "stopwatch Tilt",
    "step-through Color1",
    "step-through Gobo1",
    "step-through Gobo2",
    "stopwatch Iris",
    "stopwatch Zoom",
    "stopwatch Focus1",
  ]);
  expect(times.reduce((sum, { frames }) => sum + secondsOf(frames), 0)).toBeLessThan(300);
});

test("a wheel is timed by its long hops: the press less the reaction, shared by the positions on the shorter way round", () => {
  const [wheel] = times.filter(({ functions }) => functions[0] === "Color1");
  const moves = wheel!.moves.filter((move) => move.function === "Color1" && move.start >= wheel!.leadIn);
  // Six positions at 0, 16 ... 80: from the last to the first but one it is two, the shorter way round. 0.4 s is the reaction.
  const hops = moves.filter(({ from, to }) => Math.abs(from - to) === 64);
  const presses = hops.map(({ start }) => {
    const after = secondsOf(start) + 0.4 + 2 * 0.2;
    return { frame: Math.round(after * 40), after };
  });
  const view = { ...emptyRun, steps: [{ presses }] as never };
  expect(measuredIn(spot, [wheel!], view)).toEqual([
    { function: "Color1", travel: 0.2, spread: 0.07, presses: hops.length, told: 0.12, key: "step_s" },
  ]);
});
