import fc from "fast-check";
import { expect, test } from "vitest";
import { infer, inferNone } from "../../../src/diagnosis/model/infer.ts";
import { likeliestSets } from "../../../src/diagnosis/model/joint.ts";
import type { Evidence, Network } from "../../../src/diagnosis/model/network-shape.ts";

const probability = fc.integer({ min: 1, max: 999 }).map((n) => n / 1000);
const cases = fc
  .record({
    priors: fc.array(probability, { minLength: 1, maxLength: 6 }),
    rows: fc.array(fc.record({ leak: probability, seen: fc.constantFrom("present", "absent", "open") }), {
      maxLength: 5,
    }),
    links: fc.array(fc.option(probability, { nil: 0 }), { minLength: 30, maxLength: 30 }),
  })
  .map(({ priors, rows, links }): { network: Network; evidence: Evidence } => ({
    network: {
      faults: priors.map((prior, i) => ({ id: `f${i}`, prior })),
      symptoms: rows.map(({ leak }, j) => ({
        id: `s${j}`,
        leak,
        links: Object.fromEntries(priors.map((_, i) => [`f${i}`, links[i * 5 + j]!])),
      })),
    },
    evidence: {
      present: rows.flatMap(({ seen }, j) => (seen === "present" ? [`s${j}`] : [])),
      absent: rows.flatMap(({ seen }, j) => (seen === "absent" ? [`s${j}`] : [])),
    },
  }));

/** Every set, by the definition of the model. */
function enumerate({ faults, symptoms }: Network, { present, absent }: Evidence) {
  const sets = Array.from({ length: 2 ** faults.length }, (_, mask) => {
    const on = faults.filter((_, i) => (mask >> i) & 1).map(({ id }) => id);
    const prior = faults.reduce((product, { id, prior: p }) => product * (on.includes(id) ? p : 1 - p), 1);
    const weight = symptoms.reduce((product, { id, leak, links }) => {
      const silent = on.reduce((left, fault) => left * (1 - links[fault]!), 1 - leak);
      return product * (present.includes(id) ? 1 - silent : absent.includes(id) ? silent : 1);
    }, prior);
    return { faults: on, weight };
  });
  const whole = sets.reduce((sum, { weight }) => sum + weight, 0);
  return sets.map(({ faults: on, weight }) => ({ faults: on.sort(), probability: weight / whole }));
}

test("the best sets are those of full enumeration", () => {
  fc.assert(
    fc.property(cases, fc.integer({ min: 1, max: 5 }), ({ network, evidence }, count) => {
      const found = likeliestSets(network, evidence, count, 6);
      const all = enumerate(network, evidence);
      const expected = all
        .map(({ probability: p }) => p)
        .sort((a, b) => b - a)
        .slice(0, count);
      expect(found).toHaveLength(expected.length);
      for (const [i, { probability: p }] of found.entries()) expect(p).toBeCloseTo(expected[i]!, 12);
      for (const { faults, probability: p } of found) {
        const same = all.find((one) => one.faults.join() === [...faults].sort().join());
        expect(p).toBeCloseTo(same!.probability, 12);
      }
    }),
  );
});

/** By hand: a and b each explain x and so exclude each other, c has nothing to do with either. */
test("the best pair need not be the two best single faults", () => {
  const network: Network = {
    faults: [
      { id: "a", prior: 0.1 },
      { id: "b", prior: 0.1 },
      { id: "c", prior: 0.3 },
    ],
    symptoms: [{ id: "x", leak: 0.001, links: { a: 0.9, b: 0.9 } }],
  };
  const evidence = { present: ["x"], absent: [] };
  const { posteriors } = infer(network, evidence);
  expect(Math.min(posteriors["a"]!, posteriors["b"]!)).toBeGreaterThan(posteriors["c"]!);
  const pair = likeliestSets(network, evidence, 8).find(({ faults }) => faults.length === 2);
  expect(pair!.faults).toContain("c");
});

test("the empty set is as probable as nothing broken", () => {
  fc.assert(
    fc.property(cases, ({ network, evidence }) => {
      const empty = likeliestSets(network, evidence, 2 ** network.faults.length, 6).find(
        (set) => set.faults.length === 0,
      );
      expect(empty!.probability).toBeCloseTo(inferNone(network, evidence), 12);
    }),
  );
});

test("evidence that cannot happen has no sets", () => {
  const network = { faults: [{ id: "a", prior: 0 }], symptoms: [{ id: "x", leak: 0, links: { a: 1 } }] };
  expect(likeliestSets(network, { present: ["x"], absent: [] }, 3)).toEqual([]);
});
