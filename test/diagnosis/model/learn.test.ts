import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Case, CLEAN, caseFrom } from "../../../src/diagnosis/model/case.ts";
import { marginals, type Network } from "../../../src/diagnosis/model/layers.ts";
import { betaUpdate, learn, wholeTrade } from "../../../src/diagnosis/model/learn.ts";
import { learnLinks } from "../../../src/diagnosis/model/learn-links.ts";
import { networkFor } from "../../../src/diagnosis/model/network.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { NOTHING_LEARNED, withHistory } from "../../../src/diagnosis/model/shop.ts";
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
  first: { id: "f", probability: 0.5 },
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

  test.each([
    ["a clean fixture came back without it", CLEAN, { yes: 0, of: 1 }],
    ["another fault was found, this one was not", job(true, { confirmed: ["g"], rest: "unknown" }), { yes: 0, of: 1 }],
    ["after a full test that it passed, it is absent", job(true, { confirmed: [], rest: "absent" }), { yes: 0, of: 1 }],
  ])("every fixture that came back counts: %s", (_, returned, expected) => {
    expect(priorAfter([returned])).toMatchObject(expected);
  });

  test("nobody knows in the end what it had: it counts neither way", () => {
    expect(priorAfter([job(true, { confirmed: [], rest: "unknown" })])).toBeUndefined();
  });
});

describe("the clean fixture has its own record", () => {
  const found = (fault: "iris-leaf-bent" | "pan-belt-slack") =>
    caseFrom(
      SPOT,
      runWith(fault === "iris-leaf-bent" ? { "sweep Iris": ["grinds"] } : { "snap Pan": ["swings-on"] }),
      [],
      {
        confirmed: [fault],
        cleared: [],
        rest: "unknown",
      },
    );
  const unknown = caseFrom(SPOT, runWith({ "sweep Zoom": ["jerks"] }), [], {
    confirmed: [],
    cleared: [],
    rest: "unknown",
  });
  const [bentLeaf, slackBelt] = [found("iris-leaf-bent"), found("pan-belt-slack")];
  const shop = (unknowns: number) =>
    learn(wholeTrade(), [
      ...Array.from({ length: 60 }, () => bentLeaf),
      ...Array.from({ length: 40 }, () => slackBelt),
      ...Array.from({ length: 100 }, () => CLEAN),
      ...Array.from({ length: unknowns }, () => unknown),
    ]);

  test("300 cases of which nobody ever knew the cause do not lower it", () => {
    const [many, none] = [shop(300), shop(0)];
    expect(rank(SPOT, [], [], many).nothingBroken).toBe(rank(SPOT, [], [], none).nothingBroken);
    expect(rank(SPOT, [], [], many).nothingBroken).toBeGreaterThan(0.42);
    expect(rank(SPOT, runWith({}), [], many).faults[0]).toMatchObject({ id: "nothing-broken" });
  });

  test("1475 cases in which nobody looked for anything else do not take a clean fixture's name from it", () => {
    const many = learn(wholeTrade(), [
      ...Array.from({ length: 885 }, () => bentLeaf),
      ...Array.from({ length: 590 }, () => slackBelt),
      ...Array.from({ length: 40 }, () => CLEAN),
    ]);
    expect(many.clean).toMatchObject({ yes: 40, of: 1515 });
    expect(rank(SPOT, runWith({}), [], many).faults[0]).toMatchObject({ id: "nothing-broken" });
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

/** With these a sum of shares rounded up and a link became 1.0000000000000002, which was refused; seen to fail without the bound. */
const ROUNDED_UP = [16, 23, 38, 90, 112, 114] as const;

test.each([{ numRuns: 300 }, ...ROUNDED_UP.map((seed) => ({ numRuns: 100, seed }))])(
  "the log likelihood never falls, and every link stays a probability: %j",
  (runs) => {
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
            first: { id: "a", probability: 0.5 },
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
      runs,
    );
  },
);

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
    wholeTrade(),
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
    const shown = (learned: typeof history) =>
      marginals(withHistory(networkFor(SPOT), learned).faults.find(({ id }) => id === "iris-lever")!).get(
        "iris/rattles",
      );
    expect(shown(history)).toBe(shown(NOTHING_LEARNED));
  });

  test("a fault shows a symptom as often as was learned, more often or less than it was thought to", () => {
    const shown = (value: number) => {
      const learned = { ...history, links: { "iris/grinds": { "iris-leaf-bent": { value, yes: 1, of: 1 } } } };
      return marginals(withHistory(networkFor(SPOT), learned).faults.find(({ id }) => id === "iris-leaf-bent")!).get(
        "iris/grinds",
      )!;
    };
    expect(shown(0.95)).toBeCloseTo(0.95, 9);
    expect(shown(0.2)).toBeLessThan(0.22);
    expect(shown(0.2)).toBeGreaterThan(0.15);
  });

  test("one motor of many learns at the motor that failed, whichever it was", () => {
    const dead = (step: "sweep Iris" | "sweep Zoom") =>
      caseFrom(SPOT, runWith({ [step]: ["jerks"] }), [], { confirmed: ["driver-dead"], cleared: [], rest: "absent" });
    const learned = learn(wholeTrade(), [
      ...Array.from({ length: 6 }, () => dead("sweep Iris")),
      ...Array.from({ length: 6 }, () => dead("sweep Zoom")),
    ]);
    expect(learned.links["struck/jerks"]!["driver-dead"]).toMatchObject({ yes: 12, of: 12 });
    const chance = (...args: Parameters<typeof rank>) =>
      rank(...args).faults.find(({ id }) => id === "driver-dead")!.probability;
    const focus = runWith({ "sweep Focus1": ["jerks"] });
    expect(chance(SPOT, focus, [], learned)).toBeGreaterThan(3 * chance(SPOT, focus));
  });
});
