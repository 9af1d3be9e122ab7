import bayesjs from "bayesjs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { infer, inferNone } from "../../../src/diagnosis/model/infer.ts";
import type { Evidence, Network } from "../../../src/diagnosis/model/layers.ts";

const probability = fc.integer({ min: 1, max: 999 }).map((n) => n / 1000);

/** Small networks with every kind of link, and symptoms seen, not seen, not looked for. */
const cases = fc
  .record({ faults: fc.integer({ min: 1, max: 4 }), symptoms: fc.integer({ min: 1, max: 5 }) })
  .chain(({ faults, symptoms }) =>
    fc.record({
      priors: fc.array(probability, { minLength: faults, maxLength: faults }),
      rows: fc.array(
        fc.record({
          leak: probability,
          links: fc.array(fc.option(probability, { nil: undefined }), { minLength: faults, maxLength: faults }),
          seen: fc.constantFrom("present", "absent", "not looked for"),
        }),
        { minLength: symptoms, maxLength: symptoms },
      ),
    }),
  )
  .map(({ priors, rows }): { network: Network; evidence: Evidence } => ({
    network: {
      faults: priors.map((prior, i) => ({ id: `f${i}`, prior })),
      symptoms: rows.map(({ leak, links }, j) => ({
        id: `s${j}`,
        leak,
        links: Object.fromEntries(links.flatMap((link, i) => (link === undefined ? [] : [[`f${i}`, link]]))),
      })),
    },
    evidence: {
      present: rows.flatMap(({ seen }, j) => (seen === "present" ? [`s${j}`] : [])),
      absent: rows.flatMap(({ seen }, j) => (seen === "absent" ? [`s${j}`] : [])),
    },
  }));

/** The same network as a general Bayesian network with full tables. */
function asTables({ faults, symptoms }: Network) {
  const yesNo = (yes: number, no = 1 - yes) => ({ yes, no });
  const nodes = [
    ...faults.map(({ id, prior }) => ({ id, states: ["yes", "no"], parents: [] as string[], cpt: yesNo(prior) })),
    ...symptoms.map(({ id, leak, links }) => {
      const parents = Object.keys(links);
      const rows = Array.from({ length: 2 ** parents.length }, (_, row) => {
        const on = parents.filter((_, bit) => (row >> bit) & 1);
        const silent = on.reduce((product, parent) => product * (1 - links[parent]!), 1 - leak);
        return {
          when: Object.fromEntries(parents.map((parent) => [parent, on.includes(parent) ? "yes" : "no"])),
          // biome-ignore lint/suspicious/noThenProperty: the other library's own key
          then: yesNo(1 - silent, silent),
        };
      });
      return { id, states: ["yes", "no"], parents, cpt: parents.length === 0 ? yesNo(leak) : rows };
    }),
  ];
  return Object.fromEntries(nodes.map((node) => [node.id, node]));
}

test("agrees with bayesjs's enumeration and variable elimination within 1e-12", () => {
  fc.assert(
    fc.property(cases, ({ network, evidence }) => {
      const tables = asTables(network);
      const given = {
        ...Object.fromEntries(evidence.present.map((id) => [id, "yes"])),
        ...Object.fromEntries(evidence.absent.map((id) => [id, "no"])),
      };
      const belief = infer(network, evidence);
      for (const engine of [bayesjs.inferences.enumeration, bayesjs.inferences.variableElimination]) {
        // Asked for nothing at all the other engine stumbles.
        if (Object.keys(given).length > 0)
          expect(Math.abs(engine.infer(tables, given, {}) - belief.probability)).toBeLessThan(1e-12);
        for (const { id } of network.faults)
          expect(Math.abs(engine.infer(tables, { [id]: "yes" }, given) - belief.posteriors[id]!)).toBeLessThan(1e-12);
        const nothing = Object.fromEntries(network.faults.map(({ id }) => [id, "no"]));
        expect(Math.abs(engine.infer(tables, nothing, given) - inferNone(network, evidence))).toBeLessThan(1e-12);
      }
    }),
    { numRuns: 60 },
  );
});

test("probabilities stay between 0 and 1", () => {
  fc.assert(
    fc.property(cases, ({ network, evidence }) => {
      const { probability: whole, posteriors } = infer(network, evidence);
      for (const value of [whole, inferNone(network, evidence), ...Object.values(posteriors)]) {
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThanOrEqual(1 + 1e-15);
      }
    }),
  );
});

test("without evidence the priors come back to the last bit", () => {
  fc.assert(
    fc.property(cases, ({ network }) => {
      const { probability: whole, posteriors } = infer(network, { present: [], absent: [] });
      expect(whole).toBe(1);
      expect(posteriors).toEqual(Object.fromEntries(network.faults.map(({ id, prior }) => [id, prior])));
    }),
  );
});

test("the order of symptoms and of evidence does not matter", () => {
  fc.assert(
    fc.property(cases, ({ network, evidence }) => {
      const turned = infer(
        { faults: [...network.faults].reverse(), symptoms: [...network.symptoms].reverse() },
        { present: [...evidence.present].reverse(), absent: [...evidence.absent].reverse() },
      );
      const straight = infer(network, evidence);
      expect(turned.probability).toBeCloseTo(straight.probability, 13);
      for (const { id } of network.faults) expect(turned.posteriors[id]).toBeCloseTo(straight.posteriors[id]!, 12);
    }),
  );
});

test("a fault with no way to what was observed stays at its prior", () => {
  fc.assert(
    fc.property(cases, probability, ({ network, evidence }, prior) => {
      const wider = { ...network, faults: [...network.faults, { id: "stranger", prior }] };
      expect(infer(wider, evidence).posteriors["stranger"]).toBe(prior);
    }),
  );
});

test("the probabilities of a symptom seen and not seen add up to the evidence without it", () => {
  fc.assert(
    fc.property(cases, ({ network, evidence }) => {
      const open = network.symptoms.find(({ id }) => ![...evidence.present, ...evidence.absent].includes(id));
      fc.pre(open !== undefined);
      const seen = infer(network, { ...evidence, present: [...evidence.present, open!.id] }).probability;
      const missed = infer(network, { ...evidence, absent: [...evidence.absent, open!.id] }).probability;
      expect(seen + missed).toBeCloseTo(infer(network, evidence).probability, 12);
    }),
  );
});
