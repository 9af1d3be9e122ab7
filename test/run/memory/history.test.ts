import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { tellHistory } from "../../../src/reports/history-text.ts";
import { exportCsv } from "../../../src/reports/tables.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import { fixtureHistoryOf, functionsIn } from "../../../src/run/memory/history.ts";
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
const historyFrom = (...happened: readonly Happened[]) => fixtureHistoryOf("A-17", happened.map(briefFrom), STANDING);
const history = historyFrom(CHECK_IN, REPLAY, NEXT)!;

describe("the history of a fixture", () => {
  test("tells its runs in the order of writing, at whichever bench that was", () => {
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
    expect(STANDING).toMatchObject({ state: "needs-work", signed: undefined });
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

test("runs stand in the order of writing, whatever their dates are", () => {
  const written = fc.shuffledSubarray([CHECK_IN, REPLAY, NEXT], { minLength: 3 });
  fc.assert(
    fc.property(written, (happened) => {
      const runs = historyFrom(...happened)?.runs.map(({ run }) => run);
      expect(runs).toEqual(happened.map(({ run }) => run));
    }),
  );
});

describe("what was done besides looking", () => {
  const failedTest = {
    kind: "reading-taken",
    reading: "electrical-safety",
    value: 12,
    unit: "",
    verdict: "outside",
    initials: "EE",
    note: "",
  } as const;
  const HELD: EventBody = { kind: "quarantined", reasons: [], initials: "KM", note: "waits for a part" };
  const happened: readonly Happened[] = [
    { run: "1", after: [{ kind: "signed-off", initials: "KM", note: "" }, failedTest, HELD] },
  ];

  test("a failed electrical test after the signature, and who held it back, stand in the history", () => {
    const history = fixtureHistoryOf("A-17", happened.map(briefFrom), standingFrom("A-17", ...happened))!;
    const page = tellHistory(history);
    expect(page).toContain("Do not use: electrical safety test out of limit");
    expect(page).toContain("measured      electrical safety test: 12, OUT OF LIMIT; signed EE");
    expect(page).toContain("decided       signed off by KM");
    expect(page).toContain("decided       held back by KM; waits for a part");
    expect(exportCsv(happened.map(briefFrom))).toContain("measurement,electrical-safety,,,outside 12 EE");
  });

  test("runs stand in the order of writing, and a date that cannot be right is remarked", () => {
    const runs = [
      { run: "1", at: "2026-11-20T09:00:00.000Z" },
      { run: "2", at: "2019-01-01T09:00:00.000Z" },
      { run: "3", at: "2031-01-01T09:00:00.000Z" },
    ];
    const history = fixtureHistoryOf("A-17", runs.map(briefFrom), standingFrom("A-17", ...runs))!;
    expect(history.runs.map(({ run }) => run)).toEqual(["1", "2", "3"]);
    expect(history.runs.map(({ doubt }) => doubt)).toEqual([
      undefined,
      "dated 2880 days before what was written before it: a clock was wrong",
      "dated 12 years after the run before: was a clock wrong?",
    ]);
  });
});
