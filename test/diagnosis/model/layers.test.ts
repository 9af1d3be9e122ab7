import fc from "fast-check";
import { expect, test } from "vitest";
import { infer, inferNone } from "../../../src/diagnosis/model/infer.ts";
import {
  type Evidence,
  type LayeredFault,
  type LayeredNetwork,
  marginals,
  type NetworkEffect,
} from "../../../src/diagnosis/model/layers.ts";
import { enumerated } from "./every-world.ts";

const SYMPTOMS = ["a", "b", "c", "d"] as const;
const chance = fc.integer({ min: 1, max: 99 }).map((n) => n / 100);
const effect = fc
  .record({
    probability: chance,
    links: fc.dictionary(fc.constantFrom(...SYMPTOMS), chance, { minKeys: 1, maxKeys: 3 }),
  })
  .map(({ probability, links }): NetworkEffect => ({ probability, links: new Map(Object.entries(links)) }));
const fault = fc
  .record({
    prior: chance,
    effects: fc.array(effect, { maxLength: 2 }),
    ways: fc.array(fc.record({ weight: chance, effects: fc.array(effect, { maxLength: 2 }) }), { maxLength: 3 }),
  })
  .map(({ prior, effects, ways }): LayeredFault => {
    const whole = ways.reduce((sum, { weight }) => sum + weight, 0);
    return { id: "f", prior, effects, ways: ways.map((way) => ({ share: way.weight / whole, effects: way.effects })) };
  });
const networks = fc
  .record({ faults: fc.array(fault, { minLength: 1, maxLength: 3 }), leaks: fc.tuple(chance, chance, chance, chance) })
  .map(
    ({ faults, leaks }): LayeredNetwork => ({
      faults: faults.map((one, i) => ({ ...one, id: `f${i}` })),
      symptoms: SYMPTOMS.map((id, j) => ({ id, leak: leaks[j] ?? 0 })),
    }),
  );
const seen = fc.tuple(...SYMPTOMS.map(() => fc.constantFrom("present", "absent", "not looked for")));
const evidenceOf = (states: readonly string[]): Evidence => ({
  present: SYMPTOMS.filter((_, i) => states[i] === "present"),
  absent: SYMPTOMS.filter((_, i) => states[i] === "absent"),
});

test("three layers with ways agree with writing out every world", () => {
  fc.assert(
    fc.property(networks, seen, (network, states) => {
      const evidence = evidenceOf(states);
      const slow = enumerated(network, evidence);
      const fast = infer(network, evidence);
      expect(fast.probability).toBeCloseTo(slow.probability, 12);
      expect(inferNone(network, evidence)).toBeCloseTo(slow.none, 10);
      slow.posteriors.forEach((value, i) => {
        expect(fast.posteriors[`f${i}`]).toBeCloseTo(value, 10);
      });
      slow.behind.forEach((value, i) => {
        expect(fast.behind[`f${i}`]).toBeCloseTo(value, 10);
      });
    }),
    { numRuns: 150 },
  );
});

test("no evidence gives the priors, and one symptom its marginal link", () => {
  fc.assert(
    fc.property(fault, (one) => {
      const network = { faults: [{ ...one, id: "f" }], symptoms: SYMPTOMS.map((id) => ({ id, leak: 0 })) };
      expect(infer(network, { present: [], absent: [] }).posteriors["f"]).toBeCloseTo(one.prior, 12);
      const links = marginals({ ...one, id: "f" });
      for (const id of SYMPTOMS)
        expect(infer(network, { present: [id], absent: [] }).probability).toBeCloseTo(
          one.prior * (links.get(id) ?? 0),
          12,
        );
    }),
    { numRuns: 100 },
  );
});
