import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { functionsIn } from "../../../src/run/memory/functions.ts";
import { historyOf } from "../../../src/run/memory/history.ts";
import { briefFrom, foundBody, type Happened, judgedBody, standingFrom } from "./happened.ts";

const KNOCK = { symptom: "knocks", function: "Pan" } as const;
const hired = "2026-11-20T09:00:00.000Z";

/** Came in with a knock, was mended, replayed clean; came back from the next hire with the same. */
const CHECK_IN: Happened = {
  run: "check-in",
  steps: [
    { of: "Pan", result: "fail", symptoms: [KNOCK], note: "left end" },
    { of: "Iris", result: "pass" },
  ],
  after: [foundBody("pan-belt-slack", "new belt")],
};
const REPLAY: Happened = {
  run: "replay",
  at: "2026-11-02T11:05:00.000Z",
  replays: "check-in",
  steps: [
    { of: "Pan", result: "pass" },
    { of: "Iris", result: "pass" },
  ],
};
const NEXT: Happened = {
  run: "next",
  at: hired,
  bench: "bench two",
  steps: [
    { of: "Pan", result: "fail", symptoms: [KNOCK, KNOCK] },
    { of: "Iris", result: "unsure" },
  ],
  after: [foundBody("pan-belt-slack")],
};
const STANDING = standingFrom("A-17", CHECK_IN, REPLAY, NEXT);
const historyFrom = (...happened: readonly Happened[]) => historyOf("A-17", happened.map(briefFrom), STANDING);
const history = historyFrom(NEXT, CHECK_IN, REPLAY)!;

describe("the history of a fixture", () => {
  test("tells its runs oldest first, in whatever order and at whichever bench they were written", () => {
    expect(history.runs.map(({ run, bench }) => [run, bench])).toEqual([
      ["check-in", "bench one"],
      ["replay", "bench one"],
      ["next", "bench two"],
    ]);
  });

  test("counts hours from the last thing that was written to the start of the next run", () => {
    const [, replay] = history.runs;
    // check-in: seven events, one each minute from 9:00; the replay began at 11:05.
    expect(replay?.hoursSince).toBeCloseTo((125 - 6) / 60, 9);
    expect(history.runs[0]?.hoursSince).toBeUndefined();
  });

  test("says of each run what failed or was unsure, with symptoms and note, and counts the rest", () => {
    expect(history.runs[0]).toMatchObject({
      counts: { fail: 1, pass: 1 },
      wrong: [{ functions: ["Pan"], result: "fail", symptoms: [KNOCK], note: "left end" }],
      finds: [{ fault: "pan-belt-slack", note: "new belt", person: "KM" }],
    });
  });

  test("says of each function how it did, run by run, the worst of its steps", () => {
    expect(history.functions.map((one) => [one.function, one.results.map(({ worst }) => worst)])).toEqual([
      ["Pan", ["fail", "pass", "fail"]],
      ["Iris", ["pass", "pass", "unsure"]],
    ]);
  });

  test("names the parts that what was found takes", () => {
    expect(history.parts.map(({ part, run }) => [part, run])).toEqual([
      ["pan belt", "check-in"],
      ["pan belt", "next"],
    ]);
  });

  test("says what came back, fault and symptom, once each, and after how long", () => {
    expect(history.returns.map(({ kind, first, again }) => [kind, first, again])).toEqual([
      ["fault", "check-in", "next"],
      ["symptom", "check-in", "next"],
    ]);
    expect(history.symptoms).toEqual([{ ...KNOCK, runs: ["check-in", "next"] }]);
  });

  test("stands where the rules of release put it", () => {
    expect(history.standing).toEqual(STANDING);
    expect(STANDING).toMatchObject({ state: "not-released", signed: undefined });
    expect(STANDING.reasons.map(({ words }) => words).join()).toContain("pan");
  });
});

test("the same symptom in a replay of the same job is still there, and did not come back", () => {
  const still: Happened = { ...NEXT, replays: "replay", after: [] };
  expect(historyFrom(CHECK_IN, REPLAY, still)?.returns).toEqual([]);
});

test("a corrected judgement is told corrected, everywhere", () => {
  const slip: Happened = {
    ...CHECK_IN,
    after: [{ kind: "step-corrected", step: "sweep Pan", attempt: 1 }, judgedBody("Pan", "pass")],
  };
  expect(standingFrom("A-17", slip).reasons.map(({ rule }) => rule)).not.toContain("failed");
  expect(standingFrom("A-17", { ...CHECK_IN, after: [] }).reasons.map(({ rule }) => rule)).toContain("failed");
  expect(historyFrom(slip)).toMatchObject({
    symptoms: [],
    runs: [{ counts: { pass: 2 }, wrong: [] }],
    functions: [{ results: [{ worst: "pass" }] }, { results: [{ worst: "pass" }] }],
  });
});

test("a step that moved two functions and went wrong at one of them says nothing of the other", () => {
  const brief = briefFrom({ run: "one", steps: [{ of: "Pan", result: "fail", symptoms: [KNOCK] }] });
  const [step] = brief.steps;
  const both = { ...brief, steps: [{ ...step!, functions: ["Pan", "Tilt"] as const }] };
  expect(functionsIn([both]).map((one) => one.function)).toEqual(["Pan"]);
  const unnamed = { ...both, steps: [{ ...both.steps[0]!, symptoms: [] }] };
  expect(functionsIn([unnamed]).map((one) => one.function)).toEqual(["Pan", "Tilt"]);
});

test("simulated runs are told of a fixture only where it has no real ones", () => {
  const simulated = { ...NEXT, simulated: true };
  expect(historyFrom(REPLAY, simulated)).toMatchObject({ simulated: false, runs: [{ run: "replay" }] });
  expect(historyFrom(simulated)).toMatchObject({ simulated: true, runs: [{ run: "next" }] });
  expect(historyFrom()).toBeUndefined();
  const real = standingFrom("A-17", REPLAY);
  expect(standingFrom("A-17", REPLAY, simulated)).toEqual(real);
});

test("the order of writing changes nothing", () => {
  const briefs = [CHECK_IN, REPLAY, NEXT].map(briefFrom);
  const any = fc.shuffledSubarray(briefs, { minLength: 3 });
  fc.assert(
    fc.property(any, (shuffled) => {
      expect(historyOf("A-17", shuffled, STANDING)).toEqual(history);
    }),
  );
});
