import { expect, test } from "vitest";
import { type Assessment, assess } from "../../../src/diagnosis/places/assessment.ts";
import { followUps } from "../../../src/diagnosis/places/follow-up.ts";
import { compileStep } from "../../../src/plan/compile.ts";
import { sampler } from "../../../src/plan/sample.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import type { Truth } from "./kit/presser.ts";
import { bench, spot, stepOf } from "./kit/rig.ts";
import { KEEN, ordinary, watched } from "./kit/session.ts";

const FULL = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
const RIG = { profile: spot, bench, before: spot.rest };
const proposed = (assessment: Assessment) => followUps(RIG, "Pan", assessment);
const lowEnd: Truth = { kind: "ends", low: true, high: false };

test("presses at an end call for a sweep that stops short of it, with its seconds and what it would tell", () => {
  const [first] = proposed(assess(watched([FULL], lowEnd, KEEN))!);
  expect(first).toMatchObject({
    kind: "short-sweep",
    step: { routine: "short-sweep", functions: ["Pan"], options: { deg_per_s: 60, passes: 6 } },
    tells: "what still happens does not come from an end",
  });
  expect(first!.settles).toBeGreaterThan(0.9);
  expect(first!.seconds).toBeGreaterThan(40);
  expect(first!.seconds).toBeLessThan(65);
});

test("the short sweep that is proposed settles it, whichever end or turn it was, nearly always (simulated)", () => {
  const truths: readonly Truth[] = [lowEnd, { kind: "ends", low: true, high: true }, { kind: "turn-rounds" }];
  let right = 0;
  for (let seed = 0; seed < 12; seed++) {
    const chance = chanceFrom(300 + seed);
    const [truth, watcher] = [truths[seed % 3]!, ordinary(chance)];
    const before = watched([FULL], truth, watcher, chance);
    const next = compileStep(spot, bench, proposed(assess(before)!)[0]!.step, spot.rest, 1);
    const kind = assess([...before, ...watched([next], truth, watcher, chance)])?.settled?.pattern.kind;
    if (kind === ["low-end", "both-ends", "turn-rounds"][seed % 3]) right++;
  }
  expect(right).toBeGreaterThanOrEqual(11);
});

test("a place that is settled leaves the question of play and of the loom, and says so", () => {
  const found = proposed(assess(watched([FULL], { kind: "position", place: 90 }, KEEN))!);
  expect(new Set(found.map(({ kind }) => kind))).toEqual(new Set(["second-speed", "other-axis"]));
  expect(found.find(({ kind }) => kind === "second-speed")?.step.options).toEqual({ deg_per_s: 20, passes: 4 });
  expect(found.find(({ kind }) => kind === "other-axis")?.step.options.others).toEqual({ Tilt: 94.5 });
});

test("what has no other axis is not asked about one, and percents are paced in seconds", () => {
  const sweep = stepOf("{ sweep: Iris, seconds: 5, passes: 10 }");
  const watches = watched([sweep], { kind: "position", place: 60 }, { ...KEEN, lag: 0 }, chanceFrom(3), "Iris");
  expect(followUps(RIG, "Iris", assess(watches)!).map(({ kind, step }) => [kind, step.options])).toEqual([
    ["second-speed", { seconds: 15, passes: 4 }],
  ]);
});

test("a slow sweep is followed by a faster one: a third of it would take longer than anybody watches well", () => {
  const slow = stepOf("{ sweep: Pan, deg_per_s: 30, passes: 10 }");
  const found = proposed(assess(watched([slow], { kind: "position", place: 90 }, KEEN))!);
  expect(found.find(({ kind }) => kind === "second-speed")?.step.options.deg_per_s).toBe(90);
});

test("presses that are tied to nothing yet call for more passes once a short sweep was played", () => {
  const short = stepOf("{ short-sweep: Pan, deg_per_s: 60, passes: 4 }");
  const found = proposed(assess(watched([FULL, short], { kind: "all-along", way: "up" }, KEEN))!);
  expect(found.map(({ kind }) => kind)).not.toContain("short-sweep");
  expect(found.map(({ kind }) => kind)).toContain("more-passes");
});

test("every proposal is a step that can be played as it stands", () => {
  for (const truth of [lowEnd, { kind: "position", place: 90 } as const])
    for (const { step, seconds } of proposed(assess(watched([FULL], truth, KEEN))!)) {
      const compiled = compileStep(spot, bench, step, spot.rest, 1);
      expect(compiled.fitted).toBe(true);
      expect(seconds).toBeCloseTo(compiled.frames / 40, 9);
      expect(sampler(spot, compiled)(compiled.frames)).toHaveLength(spot.slots);
    }
});
