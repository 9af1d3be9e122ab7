import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Case } from "../../../src/diagnosis/model/case.ts";
import { caseFrom } from "../../../src/diagnosis/model/case-from.ts";
import { betaUpdate, learn } from "../../../src/diagnosis/model/learn.ts";
import { learnLinks } from "../../../src/diagnosis/model/learn-links.ts";
import { networkFor } from "../../../src/diagnosis/model/network.ts";
import type { Network } from "../../../src/diagnosis/model/network-shape.ts";
import { numbersOf } from "../../../src/diagnosis/model/origins.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { runWith, SPOT } from "./spot.ts";

const FLAT = () => ({ a: 1, b: 1 });
const one: Network = {
  faults: [{ id: "f", prior: 0.1 }],
  symptoms: [{ id: "s", leak: 0.1, links: { f: 0.5 } }],
};
const job = (seen: boolean, changes: Partial<Case> = {}): Case => ({
  findings: [{ id: "s", seen, chance: {} }],
  confirmed: ["f"],
  cleared: [],
  rest: "absent",
  ...changes,
});
const tenJobs = Array.from({ length: 10 }, (_, i) => job(i < 7));

/** Worked by hand and by independent programs. */
describe("expectation-maximisation of one link, leak .1, 7 seen of 10, start .5", () => {
  const linkAfter = (rounds: number) => learnLinks(one, tenJobs, FLAT, rounds).links["s"]!["f"]!.value;

  test("first round, second round, limit", () => {
    expect(linkAfter(1)).toBeCloseTo(0.636363636364, 12);
    expect(linkAfter(2)).toBeCloseTo(0.662162162162, 12);
    expect(linkAfter(200)).toBeCloseTo(2 / 3, 10);
  });

  test("says from how many jobs", () => {
    expect(learnLinks(one, tenJobs, FLAT).links["s"]!["f"]).toMatchObject({ yes: 7, of: 10 });
  });
});

test("Beta(2,38) after 3 of 20 is Beta(5,55) with mean .0833333", () => {
  const { a, b, mean } = betaUpdate({ a: 2, b: 38 }, 3, 20);
  expect([a, b]).toEqual([5, 55]);
  expect(mean).toBeCloseTo(0.0833333, 7);
});

describe("priors", () => {
  const priorAfter = (cases: readonly Case[]) => learn(one, cases).priors["f"];

  test("a starter prior of .05 has the weight of 40 fixtures: 3 of 20 make .0833333", () => {
    const network = { ...one, faults: [{ id: "f", prior: 0.05 }] };
    const cases = Array.from({ length: 20 }, (_, i) => job(true, i < 3 ? {} : { confirmed: [], cleared: ["f"] }));
    expect(learn(network, cases).priors["f"]).toMatchObject({ yes: 3, of: 20 });
    expect(learn(network, cases).priors["f"]!.value).toBeCloseTo(0.0833333, 7);
  });

  test("what nobody looked for is unknown, not absent", () => {
    expect(priorAfter([job(true, { confirmed: [], rest: "unknown" })])).toBeUndefined();
  });

  test("after a full test that it passed, it is absent", () => {
    expect(priorAfter([job(true, { confirmed: [], rest: "absent" })])).toMatchObject({ yes: 0, of: 1 });
  });
});

const share = fc.integer({ min: 5, max: 95 }).map((n) => n / 100);
const jobs = fc.array(
  fc.record({
    confirmed: fc.subarray(["a", "b", "c"]),
    rest: fc.constantFrom("unknown" as const, "absent" as const),
    seen: fc.array(fc.boolean(), { minLength: 2, maxLength: 2 }),
    chance: share,
  }),
  { minLength: 1, maxLength: 15 },
);

test("the log likelihood never falls", () => {
  fc.assert(
    fc.property(jobs, fc.array(share, { minLength: 11, maxLength: 11 }), fc.boolean(), (some, p, flat) => {
      const network: Network = {
        faults: ["a", "b", "c"].map((id, i) => ({ id, prior: p[i]! })),
        symptoms: ["x", "y"].map((id, j) => ({
          id,
          leak: p[3 + j]!,
          links: { a: p[5 + j]!, b: p[7 + j]!, c: p[9 + j]! },
        })),
      };
      const cases = some.map(
        ({ confirmed, rest, seen, chance }): Case => ({
          findings: ["x", "y"].map((id, j) => ({ id, seen: seen[j]!, chance: { a: chance, b: 1 } })),
          confirmed,
          cleared: [],
          rest,
        }),
      );
      const weigh = flat ? FLAT : (link: number) => ({ a: 1 + 4 * link, b: 1 + 4 * (1 - link) });
      const { logLikelihood, links } = learnLinks(network, cases, weigh, 40);
      logLikelihood.slice(1).forEach((value, i) => {
        expect(value).toBeGreaterThanOrEqual(logLikelihood[i]! - 1e-9);
      });
      for (const row of Object.values(links))
        for (const { value } of Object.values(row)) expect(value >= 0 && value <= 1).toBe(true);
    }),
  );
});

test("a link is not lowered by looking badly: what had half a chance to be caught counts by half", () => {
  const blind = Array.from({ length: 10 }, (_, i) => ({
    ...job(i < 5),
    findings: [{ id: "s", seen: i < 5, chance: { f: 0.5 } }],
  }));
  const network = { ...one, symptoms: [{ id: "s", leak: 0.001, links: { f: 0.5 } }] };
  // Half reported with half a chance each: the fault shows it always. Closed form of the maximum, leak neglected.
  expect(learnLinks(network, blind, FLAT, 5000).links["s"]!["f"]!.value).toBeGreaterThan(0.97);
});

describe("of real runs", () => {
  const noisy = runWith({ "sweep Iris": ["rattles"] });
  const outcome = { confirmed: ["iris-leaf-bent"], cleared: [], rest: "absent" } as const;
  const history = learn(
    networkFor(SPOT),
    Array.from({ length: 12 }, () => caseFrom(SPOT, noisy, [], outcome)),
  );

  test("the shop's own rattling irises move the ranking", () => {
    const chance = (...args: Parameters<typeof rank>) =>
      rank(...args).faults.find(({ id }) => id === "iris-leaf-bent")!.probability;
    expect(chance(SPOT, noisy, [], history)).toBeGreaterThan(2 * chance(SPOT, noisy));
    expect(history.links["iris/rattles"]!["iris-leaf-bent"]).toMatchObject({ yes: 12, of: 12 });
    expect(history.priors["iris-leaf-bent"]).toMatchObject({ yes: 12, of: 12 });
  });

  test("how surely it would have been caught goes with the case; where nobody foresaw it, by half", () => {
    const chance = (id: string) =>
      caseFrom(SPOT, noisy, [], outcome).findings.find((finding) => finding.id === id)!.chance["iris-leaf-bent"]!;
    expect(chance("iris/rattles")).toBeGreaterThan(0.8);
    const never = runWith({ "sweep Pan": ["moved-after"] }).filter(({ routine }) => routine === "identify");
    const unforeseen = [
      { ...never[0]!, result: "fail" as const, symptoms: [{ symptom: "moved-after", function: "Pan" }] as const },
    ];
    expect(
      caseFrom(SPOT, unforeseen, [], outcome).findings.find(({ id }) => id === "pan-drive/moved-after")!.chance,
    ).toEqual({
      "iris-leaf-bent": 0.5,
    });
  });

  test("what no case speaks of keeps its starter value", () => {
    expect(history.links["iris/rattles"]!["iris-lever"]).toBeUndefined();
    const learned = networkFor(SPOT, history).symptoms.find(({ id }) => id === "iris/rattles")!;
    const starter = networkFor(SPOT).symptoms.find(({ id }) => id === "iris/rattles")!;
    expect(learned.links["iris-lever"]).toBe(starter.links["iris-lever"]);
  });

  test("each number says whether it is a starter value or the shop's own, and of how many", () => {
    const numbers = numbersOf("iris-leaf-bent", SPOT, history);
    const origin = (finding: string) =>
      numbers.find(({ about }) => about !== "how common" && about.finding === finding)!.origin;
    expect(numbers[0]).toMatchObject({ about: "how common", origin: "shop history, 12 of 12" });
    expect(origin("iris/rattles")).toBe("shop history, 12 of 12");
    expect(origin("inspection/iris-leaves")).toBe("starter value, judgement");
  });

  test("a fault that this fixture cannot have has no numbers", () => {
    expect(numbersOf("blade-bent", SPOT, history)).toEqual([]);
  });
});
