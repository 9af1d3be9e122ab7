import { describe, expect, test } from "vitest";
import type { TriedCase } from "../../src/app/simulated/trial-case.ts";
import { halvesOf } from "../../src/app/simulated/trial-learned.ts";
import { calibrationOf, claimsIn, hitsOf, minutesUntil, USUAL_ORDER } from "../../src/app/simulated/trial-rates.ts";
import { reportOf } from "../../src/app/simulated/trial-report.ts";
import { tellTrial } from "../../src/app/simulated/trial-words.ts";
import { fittedOf } from "../../src/data/profile/profile.ts";
import { FIXED_TEMPER } from "../../src/diagnosis/model/claims.ts";
import { FAULT_IDS, knownFault } from "../../src/diagnosis/model/knowledge/faults.ts";
import type { Observation } from "../../src/diagnosis/model/observation.ts";
import { rank } from "../../src/diagnosis/model/rank.ts";
import { COVERS } from "../../src/domain/trade/hold-points.ts";
import { inspection } from "../../src/domain/trade/inspections.ts";
import { shippedProfile } from "../kit/shipped.ts";
import { rankedAs, triedCase } from "../kit/tried.ts";

const SPOT = shippedProfile("spot-16bit");
const missed = { ranked: rankedAs("iris-burnt", "iris-lever"), rankedBefore: rankedAs("iris-burnt", "iris-lever") };
const CASES: readonly TriedCase[] = [
  triedCase({}),
  triedCase({ ...missed }),
  triedCase({ set: ["zoom-rods-dry"], right: [["zoom-rails-dry"]], aside: true, ...missed }),
  triedCase({
    kind: "clean",
    set: [],
    right: [],
    ranked: rankedAs("nothing-broken"),
    rankedBefore: rankedAs("nothing-broken"),
  }),
];

describe("how often it was right", () => {
  test("first and in the first three; what stands below nothing broken has still been named", () => {
    const { first, firstThree } = hitsOf(CASES.filter(({ kind }) => kind === "one"));
    expect([first.right, firstThree.right, first.of]).toEqual([1, 2, 3]);
    expect(hitsOf([triedCase({ ranked: rankedAs("nothing-broken", "iris-lever") })]).first.right).toBe(1);
  });

  test("the interval counts faults, not runs: a hundred runs of two faults know no more than two", () => {
    const many = Array.from({ length: 50 }, () => [
      triedCase({}),
      triedCase({ set: ["zoom-rods-dry"], ...missed }),
    ]).flat();
    const { low, high } = hitsOf(many).first.interval95;
    expect(high - low).toBeGreaterThan(0.9);
  });

  test("claims fall into their bands, by the tempered odds", () => {
    const sure = [triedCase({ ranked: [{ id: "iris-lever", probability: 0.99 }] }), triedCase({ ...missed })];
    expect(calibrationOf(claimsIn(sure, FIXED_TEMPER)).map(({ of, right }) => [of, right])).toEqual([
      [0, 0],
      [1, 0],
      [0, 0],
      [1, 1],
    ]);
  });

  test("a fault that was run twice is known to both halves", () => {
    const [even, odd] = halvesOf(CASES);
    expect(even.map(({ set }) => set.join())).toEqual(["iris-lever-slack", "zoom-rods-dry", ""]);
    expect(odd.map(({ set }) => set.join())).toEqual(["iris-lever-slack"]);
  });
});

describe("tests that were offered although nothing was reported", () => {
  const quiet = (changes: Partial<TriedCase>): TriedCase => triedCase({ quiet: true, ...changes });
  const cases: readonly TriedCase[] = [
    quiet({
      tests: [
        { name: "shaken-shake", reported: false },
        { name: "hot-soak", reported: true },
      ],
    }),
    quiet({ tests: [{ name: "shaken-shake", reported: false }] }),
    quiet({ kind: "clean", set: [], right: [], tests: [{ name: "hot-soak", reported: true }] }),
    triedCase({ tests: [{ name: "sweep", reported: true }] }),
    quiet({}),
  ];

  test("are counted by themselves, where something was set and where not, and by test", () => {
    const { quiet: found } = reportOf(cases, SPOT).withFollowUps;
    expect([found.broughtToLight.right, found.broughtToLight.of]).toEqual([1, 2]);
    expect([found.reportedOfClean.right, found.reportedOfClean.of]).toEqual([1, 1]);
    expect(found.byTest).toEqual([
      { name: "hot-soak", of: 1, reported: 1 },
      { name: "shaken-shake", of: 2, reported: 0 },
    ]);
  });

  test("are said on the page, and only where some were run", () => {
    const names = { profile: "spot-16bit", sequence: "quick" };
    expect(tellTrial(reportOf(cases, SPOT), names)).toMatch(/something set was reported then +1 of 2/);
    expect(tellTrial(reportOf(CASES, SPOT), names)).not.toContain("although nothing was reported");
  });
});

describe("with learned numbers, claims are tempered by the finds of the other half", () => {
  const seen = ["sweep", "snap"].map(
    (routine): Observation => ({
      routine: routine as "sweep",
      functions: fittedOf(SPOT).filter((one) => one.function === "Iris"),
      result: "fail",
      symptoms: [{ symptom: "not-round", function: "Iris" }],
      watched: "attended",
      litMinutes: 2,
      attitude: "standing",
    }),
  );
  const { id: said = "", probability: claimed = 0 } = rank(fittedOf(SPOT), seen).faults[0] ?? {};
  /** Runs of one fault, of which the first, third, ... was what is said first, and the others were not. */
  const runs = (of: number): readonly TriedCase[] =>
    Array.from({ length: of }, (_, n) =>
      triedCase({ observations: seen, right: [[n % 2 === 0 ? said : "zoom-rails-dry"]] }),
    );

  const names = { profile: "spot-16bit", sequence: "quick" };

  test("the half that was right is made unsure by the one that was not, and the other way round", () => {
    expect(claimed).toBeGreaterThan(0.5);
    const report = reportOf(runs(60), SPOT);
    const { tempers, calibration } = report.learned;
    expect(tempers.map(({ finds }) => finds)).toEqual([30, 30]);
    expect(tempers[0]?.power).toBeCloseTo(0.02, 2);
    expect(tempers[1]?.power).toBeCloseTo(1.5, 2);
    expect(calibration.reduce((sum, { of }) => sum + of, 0)).toBe(60);
    expect(tellTrial(report, names)).toContain("(0.02 on 30 finds; 1.50 on 30 finds):");
  });

  test("with 29 finds nothing can be measured; what is on no list and clean runs are no finds", () => {
    const others = [
      triedCase({ kind: "strange", set: ["unknown"], right: [[]] }),
      triedCase({ kind: "clean", set: [], right: [] }),
    ].flatMap((one) => [one, one]);
    const report = reportOf([...runs(58), ...others], SPOT);
    expect(report.learned.tempers).toEqual([FIXED_TEMPER, FIXED_TEMPER]);
    expect(tellTrial(report, names)).toContain("(0.60, fixed: too few finds; 0.60, fixed: too few finds):");
  });
});

describe("the page", () => {
  const page = tellTrial(reportOf(CASES, SPOT), { profile: "spot-16bit", sequence: "quick" });

  test("says that it is simulated, and each figure with its interval", () => {
    expect(page).toMatch(/^SIMULATED/);
    expect(page).toContain("clean, named clean                      1 of 1");
    expect(page).toMatch(/all faults +1 of 3 \(\d+ % to \d+ %\)/);
  });

  test("names no fault that is set aside", () => {
    expect(page).not.toContain("zoom-rods-dry");
    expect(page).toContain("iris-lever-slack");
  });
});

test("the usual order names every fault once, what needs no opening first", () => {
  expect(USUAL_ORDER.toSorted()).toEqual(FAULT_IDS.toSorted());
  expect(USUAL_ORDER[0]).toBe("settings-changed");
});

test("a cover is opened once for all that is behind it (worked)", () => {
  const first = inspection("iris-leaves");
  const one = COVERS[first.cover].minutes + first.minutes;
  expect(minutesUntil(["iris-leaf-bent"], ["iris-leaf-bent"])).toBe(one);
  const second = knownFault("frost-warped");
  const [look] = Object.entries(second.found).sort(([, a], [, b]) => b - a);
  const entry = inspection(look![0] as "iris-leaves");
  expect(entry.cover).toBe(first.cover);
  expect(minutesUntil(["iris-leaf-bent", "frost-warped"], ["frost-warped"])).toBe(one + entry.minutes);
});

test("the right fault first costs least", () => {
  const last = USUAL_ORDER.at(-1)!;
  expect(minutesUntil([last, ...USUAL_ORDER], [last])).toBeLessThan(minutesUntil(USUAL_ORDER, [last]));
});

test("an inspection that was made before is paid for, and costs nothing when its fault is reached", () => {
  const { cover, minutes } = inspection("iris-leaves");
  const paid = COVERS[cover].minutes + minutes;
  expect(minutesUntil(["iris-leaf-bent"], ["iris-leaf-bent"], ["iris-leaves"])).toBe(paid);
  expect(minutesUntil([], [], ["iris-leaves", "iris-leaves"])).toBe(paid);
});
