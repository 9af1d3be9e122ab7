import { describe, expect, test } from "vitest";
import { infer, inferNone, TooManySymptoms } from "../../../src/diagnosis/model/infer.ts";
import type { Network } from "../../../src/diagnosis/model/layers.ts";

/** Russell & Norvig, Artificial Intelligence, the fever example of the noisy-OR: inhibitions .6, .2, .1, no leak. */
const fever = (cold: number, flu: number, malaria: number): Network => ({
  faults: [
    { id: "cold", prior: cold },
    { id: "flu", prior: flu },
    { id: "malaria", prior: malaria },
  ],
  symptoms: [{ id: "fever", leak: 0, links: { cold: 0.4, flu: 0.8, malaria: 0.9 } }],
});
const FEVER = { present: ["fever"], absent: [] };

test.each([
  [0, 0, 0, 0],
  [0, 0, 1, 0.9],
  [0, 1, 0, 0.8],
  [0, 1, 1, 0.98],
  [1, 0, 0, 0.4],
  [1, 0, 1, 0.94],
  [1, 1, 0, 0.88],
  [1, 1, 1, 0.988],
])("textbook fever table: cold %d, flu %d, malaria %d give %d", (cold, flu, malaria, probability) => {
  expect(infer(fever(cold, flu, malaria), FEVER).probability).toBeCloseTo(probability, 15);
});

/** Worked from the same textbook table with all three priors .1; two independent routes agreed. */
test("fever with priors of a tenth", () => {
  const { probability, posteriors } = infer(fever(0.1, 0.1, 0.1), FEVER);
  expect(probability).toBeCloseTo(0.196288, 12);
  expect(posteriors["cold"]).toBeCloseTo(0.25354581, 9);
  expect(posteriors["flu"]).toBeCloseTo(0.42044343, 9);
  expect(posteriors["malaria"]).toBeCloseTo(0.464460385, 9);
});

/** Worked in exact fractions. */
test("a second fault that is known to be there explains the first away", () => {
  const pair = (second: number): Network => ({
    faults: [
      { id: "one", prior: 0.1 },
      { id: "two", prior: second },
    ],
    symptoms: [{ id: "seen", leak: 0.05, links: { one: 0.8, two: 0.8 } }],
  });
  const one = (second: number) => infer(pair(second), { present: ["seen"], absent: [] }).posteriors["one"];
  expect(one(0.1)).toBeCloseTo(0.421192323397, 12);
  expect(one(1)).toBeCloseTo(0.116577799321, 12);
  expect(one(0)).toBeCloseTo(9 / 14, 15);
});

describe("six faults, six symptoms", () => {
  const LINKS = [
    [0.8, 0, 0.6, 0, 0.1, 0],
    [0.3, 0.7, 0, 0, 0.2, 0],
    [0, 0.5, 0, 0.9, 0, 0.15],
    [0.2, 0, 0, 0.4, 0.6, 0],
    [0, 0.25, 0.75, 0, 0, 0.85],
    [0.1, 0, 0.35, 0.55, 0, 0.45],
  ];
  const network: Network = {
    faults: [0.04, 0.03, 0.02, 0.05, 0.01, 0.02].map((prior, i) => ({ id: `C${i}`, prior })),
    symptoms: [0.01, 0.02, 0.005, 0.01, 0.03, 0.002].map((leak, j) => ({
      id: `${j}`,
      leak,
      links: Object.fromEntries(LINKS.map((row, i) => [`C${i}`, row[j]!])),
    })),
  };
  const values = (present: string[], absent: string[]) => {
    const { probability, posteriors } = infer(network, { present, absent });
    return [probability, ...network.faults.map(({ id }) => posteriors[id]!)];
  };

  /** Enumeration in exact fractions, an independent join tree and two other engines agreed on these digits. */
  test.each([
    [
      "two seen, three not",
      ["0", "1"],
      ["2", "3", "5"],
      [
        0.00663871518004965, 0.076771433107, 0.919462258072, 0.005319868874, 0.058196011323, 0.000771161683,
        0.004779551471,
      ],
    ],
    [
      "none seen",
      [],
      ["0", "1", "2", "3", "4", "5"],
      [0.795747474388235, 0.002991026919, 0.005169018707, 0.0008665953, 0.010004168404, 0.000284010224, 0.002946141541],
    ],
    [
      "one seen, nothing else looked at",
      ["0"],
      [],
      [38551392211 / 625e9, 20153317291 / 38551392211, 0.164007924964, 0.02, 0.195974939495, 0.01, 0.04987551657],
    ],
  ])("%s", (_, present, absent, expected) => {
    values(present, absent).forEach((value, i) => {
      expect(value).toBeCloseTo(expected[i]!, 12);
    });
  });

  test("without evidence every fault keeps its prior to the last bit", () => {
    expect(values([], [])).toEqual([1, 0.04, 0.03, 0.02, 0.05, 0.01, 0.02]);
  });

  test("nothing broken: the product of what each fault's absence leaves", () => {
    expect(inferNone(network, { present: [], absent: [] })).toBeCloseTo(0.96 * 0.97 * 0.98 * 0.95 * 0.99 * 0.98, 15);
    // All absent: P(no fault and all leaks silent) / P(all absent), both in closed form.
    const silent = 0.99 * 0.98 * 0.995 * 0.99 * 0.97 * 0.998;
    const none = 0.96 * 0.97 * 0.98 * 0.95 * 0.99 * 0.98;
    expect(inferNone(network, { present: [], absent: ["0", "1", "2", "3", "4", "5"] })).toBeCloseTo(
      (none * silent) / 0.795747474388235,
      12,
    );
  });
});

/** The exact value by series: links so weak that each symptom is a leak or a single switch; see the comment inside. */
test("no digits are lost at 14 symptoms with weak links", () => {
  const bits = Array.from({ length: 14 }, (_, j) => j);
  const weak: Network = {
    faults: [{ id: "only", prior: 0.001 }],
    symptoms: bits.map((j) => ({ id: `s${j}`, leak: 1e-6, links: { only: 1e-5 } })),
  };
  const { probability, posteriors } = infer(weak, { present: bits.map((j) => `s${j}`), absent: [] });
  // One fault: P(e) = .999 leak^14 + .001 (1 - (1 - leak)(1 - link))^14, where the bracket is leak + link - leak link.
  const without = 0.999 * 1e-6 ** 14;
  const withIt = 0.001 * (1e-6 + 1e-5 - 1e-11) ** 14;
  expect(probability / (without + withIt)).toBeCloseTo(1, 13);
  expect(posteriors["only"]! / (withIt / (without + withIt))).toBeCloseTo(1, 13);
});

describe("what makes no sense is refused by name", () => {
  const network = fever(0.1, 0.1, 0.1);
  test.each([
    ["a prior above 1", fever(1.1, 0.1, 0.1), FEVER, /prior of cold is 1.1/],
    ["a prior that is no number", fever(Number.NaN, 0.1, 0.1), FEVER, /prior of cold is NaN/],
    ["an unknown symptom", network, { present: ["cough"], absent: [] }, /unknown symptom cough/],
    ["a symptom seen and not seen", network, { present: ["fever"], absent: ["fever"] }, /fever cannot be both/],
    [
      "a link to nowhere",
      { ...network, symptoms: [{ id: "fever", leak: 0, links: { gout: 0.1 } }] },
      FEVER,
      /unknown fault gout/,
    ],
    [
      "a fault listed twice",
      { ...network, faults: [...network.faults, ...network.faults] },
      FEVER,
      /cold is there twice/,
    ],
  ])("%s", (_, wrong, evidence, message) => {
    expect(() => infer(wrong, evidence)).toThrow(message);
  });

  const chain = (count: number): Network => ({
    faults: [{ id: "all", prior: 0.1 }],
    symptoms: Array.from({ length: count }, (_, j) => ({ id: `s${j}`, leak: 0.01, links: { all: 0.5 } })),
  });
  const everything = (network: Network) => ({ present: network.symptoms.map(({ id }) => id), absent: [] });

  test("20 symptoms that hang together are answered, 21 are refused", () => {
    expect(infer(chain(20), everything(chain(20))).posteriors["all"]).toBeCloseTo(1, 10);
    expect(() => infer(chain(21), everything(chain(21)))).toThrow(TooManySymptoms);
    expect(() => infer(chain(21), everything(chain(21)))).toThrow("21 symptoms hang together; at most 20");
  });

  test("60 symptoms that do not hang together are no trouble", () => {
    const apart: Network = {
      faults: Array.from({ length: 60 }, (_, i) => ({ id: `f${i}`, prior: 0.1 })),
      symptoms: Array.from({ length: 60 }, (_, i) => ({ id: `s${i}`, leak: 0.1, links: { [`f${i}`]: 0.5 } })),
    };
    // Bayes' rule by hand: .1 x .55 / (.1 x .55 + .9 x .1)
    expect(infer(apart, everything(apart)).posteriors["f59"]).toBeCloseTo(0.055 / 0.145, 14);
  });

  test("evidence that cannot happen has probability 0 and no posteriors", () => {
    expect(infer(fever(0, 0, 0), FEVER)).toEqual({
      probability: 0,
      posteriors: { cold: Number.NaN, flu: Number.NaN, malaria: Number.NaN },
      behind: { cold: Number.NaN, flu: Number.NaN, malaria: Number.NaN },
    });
  });
});

describe("being there and being behind it are two things", () => {
  const symptom = (id: string, links: Record<string, number>) => ({ id, leak: 0, links });

  test("what is common and explains nothing of it keeps its prior, and is behind nothing", () => {
    const network = {
      faults: [
        { id: "rare", prior: 0.01 },
        { id: "common", prior: 0.2 },
      ],
      symptoms: [symptom("noise", { rare: 0.5 }), symptom("shade", { common: 0.5 })],
    };
    const { posteriors, behind } = infer(network, { present: ["noise"], absent: [] });
    expect(posteriors["common"]).toBeCloseTo(0.2, 12);
    expect(behind["common"]).toBe(0);
    expect(behind["rare"]).toBeCloseTo(1, 12);
  });

  test("of two that could have done it, worked by hand: 0.2 x 0.5 of either alone, 0.5 x 0.5 beside the other", () => {
    const network = {
      faults: [
        { id: "one", prior: 0.2 },
        { id: "other", prior: 0.2 },
      ],
      symptoms: [symptom("noise", { one: 0.5, other: 0.5 })],
    };
    const { posteriors, behind } = infer(network, { present: ["noise"], absent: [] });
    const whole = 1 - 0.9 * 0.9;
    expect(posteriors["one"]).toBeCloseTo((0.2 * (0.8 * 0.5 + 0.2 * 0.75)) / whole, 12);
    expect(behind["one"]).toBeCloseTo((0.2 * 0.5) / whole, 12);
  });

  test("with nothing present nothing is behind anything", () => {
    expect(infer(fever(0.1, 0.1, 0.1), { present: [], absent: ["fever"] }).behind).toEqual({
      cold: 0,
      flu: 0,
      malaria: 0,
    });
  });
});
