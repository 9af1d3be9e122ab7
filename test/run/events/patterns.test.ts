import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import type { FaultId } from "../../../src/diagnosis/model/knowledge/faults.ts";
import type { Observation } from "../../../src/diagnosis/model/observation.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import type { SymptomId } from "../../../src/domain/trade/symptoms.ts";
import { observationsOf } from "../../../src/run/events/observations.ts";
import { watchesOf } from "../../../src/run/events/placed.ts";
import { failing, pressing } from "../../diagnosis/places/kit/pressed-run.ts";
import type { Truth } from "../../diagnosis/places/kit/presser.ts";
import { KEEN } from "../../diagnosis/places/kit/session.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { shippedProfile } from "../../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
const FULL = "{ sweep: Pan, deg_per_s: 60, passes: 10 }";
const SHORT = "{ short-sweep: Pan, deg_per_s: 60, passes: 6, inset_pct: 5 }";
const PATTERNS: readonly SymptomId[] = ["at-one-place", "one-way-only", "near-an-end", "at-no-place"];

const played = (truth: Truth, ...steps: readonly string[]): Driven =>
  steps.reduce(
    (run, _, seed) =>
      run.session.stage.kind === "moving"
        ? failing(pressing(run, truth, KEEN, seed + 1), "jerks").send({ kind: "confirm" })
        : run,
    new Driven(jobOf(steps)).started(),
  );
const seenIn = (run: Driven): readonly Observation[] => observationsOf(run.session.view, spot);
const patternsIn = (run: Driven): readonly SymptomId[] =>
  seenIn(run).flatMap(({ symptoms }) => symptoms.map(({ symptom }) => symptom).filter((one) => PATTERNS.includes(one)));

describe("a settled pattern is evidence of its own", () => {
  /** Which faults show themselves where: common practice, no source. */
  const stories: readonly (readonly [string, Truth, SymptomId, FaultId])[] = [
    [
      "both ways at one place, as a rubbed disc does",
      { kind: "position", place: 90 },
      "at-one-place",
      "pan-encoder-disc",
    ],
    [
      "one way at one place, as a pulling loom does",
      { kind: "one-way", place: 40, way: "up" },
      "one-way-only",
      "loom-drag",
    ],
    ["at the low end, as a bent stop does", { kind: "ends", low: true, high: false }, "near-an-end", "pan-stop-off"],
    ["in changing places, as bad data does", { kind: "no-place", perSecond: 0.3 }, "at-no-place", "data-line"],
  ];
  const chance = (fault: FaultId, observations: readonly Observation[]) =>
    rank(fittedOf(spot), observations).faults.find(({ id }) => id === fault)!.probability;
  const withoutPatterns = (observations: readonly Observation[]) =>
    observations.map((one) => ({
      ...one,
      symptoms: one.symptoms.filter(({ symptom }) => !PATTERNS.includes(symptom)),
    }));

  test.each(stories)("%s: once, and the fault is ranked anew", (_, truth, symptom, fault) => {
    const run = played(truth, FULL, SHORT);
    expect(patternsIn(run)).toEqual([symptom]);
    expect(chance(fault, seenIn(run))).toBeGreaterThan(1.5 * chance(fault, withoutPatterns(seenIn(run))));
  });

  test("before it is settled it is no evidence: full sweeps alone cannot tell an end from the reversal", () => {
    expect(patternsIn(played({ kind: "ends", low: true, high: false }, FULL))).toEqual([]);
  });

  test("turning round is play and no place: it is no symptom", () => {
    expect(patternsIn(played({ kind: "turn-rounds" }, FULL, SHORT))).toEqual([]);
  });
});

describe("which presses count together", () => {
  const place: Truth = { kind: "position", place: 90 };
  const watches = (run: Driven) => watchesOf(run.session.view, spot, "Pan");
  const TWO = "{ sweep: Pan, deg_per_s: 60, passes: 2 }";

  test("every attempt at a step, the slower one as it was played", () => {
    const run = pressing(new Driven(jobOf([TWO])).started(), place);
    pressing(pressing(run.send({ kind: "again" }), place).send({ kind: "slower" }), place);
    expect(watches(run).map(({ presses }) => presses.length)).toEqual([2, 2, 2]);
    expect(watches(run).map(({ passes }) => Math.round(Math.abs(passes[0]!.velocity)))).toEqual([60, 60, 30]);
  });

  test("of an attempt that was broken off only the movements that came to their end", () => {
    const run = new Driven(jobOf([TWO])).started();
    const [whole] = watches(pressing(run, place));
    run.send({ kind: "again" }).send({ kind: "press" }, 500).send({ kind: "again" }, 600);
    pressing(run, place);
    expect(watches(run).map(({ passes }) => passes.length)).toEqual([2, 1, 2]);
    expect(watches(run)[1]!.to).toBeLessThanOrEqual(whole!.passes[0]!.end + 1);
  });

  test("not what the rig spoilt, nor what nobody watched; what was no fault after all is a watch without presses", () => {
    const late = new Driven(jobOf([TWO])).started().send({ kind: "press" }, 100).playOut({ worstLate: 1, dropped: 9 });
    expect(watches(late).map(({ presses }) => presses.length)).toEqual([0]);
    const good = pressing(new Driven(jobOf([TWO])).started(), place).send({ kind: "judge", result: "pass" });
    expect(watches(good).map(({ presses }) => presses.length)).toEqual([0]);
  });
});
