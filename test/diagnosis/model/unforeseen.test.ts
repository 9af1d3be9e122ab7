import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { evidenceFrom } from "../../../src/diagnosis/model/evidence.ts";
import { infer } from "../../../src/diagnosis/model/infer.ts";
import { alsoCalled, SAID_FOR_EACH_OTHER } from "../../../src/diagnosis/model/knowledge/neighbouring-words.ts";
import { type LayeredNetwork, marginals, type NetworkEffect } from "../../../src/diagnosis/model/layers.ts";
import type { Observation } from "../../../src/diagnosis/model/observation.ts";
import type { Finding, MovingPart } from "../../../src/diagnosis/model/places.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import type { Reported } from "../../../src/diagnosis/model/signs.ts";
import { withLooseWords, withRepeatedTrouble } from "../../../src/diagnosis/model/unforeseen.ts";
import { SYMPTOM_IDS } from "../../../src/domain/trade/symptoms.ts";
import { enumerated } from "./every-world.ts";
import { runWith, SPOT } from "./spot.ts";

const IRIS: MovingPart = { key: "iris", mechanism: "iris", functions: ["Iris"], words: "iris" };
const WORDS = ["stalls", "jerks", "grinds", "slow"] as const;
const at = (what: (typeof WORDS)[number]): Finding => ({ id: `iris/${what}`, place: IRIS, what });

const chance = fc.integer({ min: 1, max: 99 }).map((n) => n / 100);
const effect = fc
  .record({ probability: chance, links: fc.dictionary(fc.constantFrom(...WORDS), chance, { minKeys: 1, maxKeys: 2 }) })
  .map(
    ({ probability, links }): NetworkEffect => ({
      probability,
      links: new Map(Object.entries(links).map(([word, link]) => [`iris/${word}`, link])),
    }),
  );
const networks = fc
  .array(fc.record({ prior: chance, effects: fc.array(effect, { minLength: 1, maxLength: 2 }), way: effect }), {
    minLength: 1,
    maxLength: 3,
  })
  .map(
    (faults): LayeredNetwork => ({
      faults: faults.map(({ prior, effects, way }, i) => ({
        id: `f${i}`,
        prior,
        effects,
        ways: [
          { share: 0.5, effects: [way] },
          { share: 0.5, effects: [] },
        ],
      })),
      symptoms: WORDS.map((word) => ({ id: `iris/${word}`, leak: 0 })),
    }),
  );
const said = fc.subarray([...WORDS], { minLength: 1 });

describe("any word may be said of a part that misbehaves", () => {
  test("what was said rules out no fault of that part, and the chances agree with writing out every world", () => {
    fc.assert(
      fc.property(networks, said, (network, words) => {
        const loose = withLooseWords(network, words.map(at));
        const evidence = {
          present: words.map((word) => `iris/${word}`),
          absent: WORDS.filter((word) => !words.includes(word)).map((word) => `iris/${word}`),
        };
        const slow = enumerated(loose, evidence);
        const fast = infer(loose, evidence);
        slow.posteriors.forEach((value, i) => {
          expect(value).toBeGreaterThan(0);
          expect(fast.posteriors[`f${i}`]).toBeCloseTo(value, 10);
        });
      }),
      { numRuns: 100 },
    );
  });

  test("what was not said weighs as before, and so does what was foreseen", () => {
    fc.assert(
      fc.property(networks, said, (network, words) => {
        const loose = withLooseWords(network, words.map(at));
        network.faults.forEach((fault, i) => {
          const after = marginals(loose.faults[i]!);
          for (const word of WORDS.filter((one) => !words.includes(one)))
            expect(after.get(`iris/${word}`)).toEqual(marginals(fault).get(`iris/${word}`));
        });
      }),
      { numRuns: 100 },
    );
  });

  test("of a spot: a scratched encoder disc stays in the list when somebody adds an odd word, a clean run is untouched", () => {
    const belief = (seen: Parameters<typeof runWith>[0]) =>
      rank(SPOT, runWith(seen)).faults.find(({ id }) => id === "pan-encoder-disc")!.probability;
    const plain = belief({ "sweep Pan": ["catches-up"], "hold Pan": ["hunts"] });
    expect(belief({ "sweep Pan": ["catches-up", "one-way-only"], "hold Pan": ["hunts"] })).toBeGreaterThan(plain / 3);
    const { network, foreseen } = evidenceFrom(SPOT, runWith({}), []);
    expect(network).toEqual(foreseen);
  });

  test("what the light does as a whole is put down to parts, and earns no words of theirs", () => {
    const { network } = evidenceFrom(SPOT, runWith({ "sweep Iris": ["creeps"] }), []);
    const links = (fault: string) => marginals(network.faults.find(({ id }) => id === fault)!).get("iris/creeps") ?? 0;
    expect(links("iris-leaf-bent")).toBeGreaterThan(0);
    expect(links("lens-grime")).toBe(0);
    expect(links("supply-weak")).toBeLessThan(0.01);
  });
});

describe("the same trouble, reported again and again", () => {
  const pass: Observation = runWith({}).find(
    ({ routine, functions }) => routine === "sweep" && functions[0]?.function === "Iris",
  )!;
  const saidIn = (times: Readonly<Partial<Record<(typeof WORDS)[number], number>>>): readonly Reported[] =>
    WORDS.flatMap((word) => {
      const sources = Array.from({ length: times[word] ?? 0 }, () => ({
        observation: { ...pass },
        report: { symptom: word, function: "Iris" as const },
      }));
      return sources.length > 0 ? [{ finding: at(word), symptom: word, sources }] : [];
    });
  const linkTo = (network: LayeredNetwork, word: string) => marginals(network.faults[0]!).get(`iris/${word}`) ?? 0;
  const sticking: LayeredNetwork = {
    faults: [{ id: "f0", prior: 0.1, ways: [], effects: [{ probability: 1, links: new Map([["iris/stalls", 0.6]]) }] }],
    symptoms: WORDS.map((word) => ({ id: `iris/${word}`, leak: 0.001 })),
  };

  test("is the likelier to be put in a neighbour's words once: 15 of 100 of what is seen, each further time", () => {
    const after = withRepeatedTrouble(sticking, saidIn({ stalls: 2, jerks: 1 }));
    expect(linkTo(after, "jerks")).toBeCloseTo(1 - (1 - 0.15 * 0.6) ** 2, 10);
  });

  test.each([
    ["said once", { stalls: 1 }],
    ["said often in the same word", { stalls: 5 }],
    ["another word of another sense", { stalls: 3, grinds: 1 }],
  ] as const)("changes nothing where no neighbour was said: %s", (_, times) => {
    expect(withRepeatedTrouble(sticking, saidIn(times))).toEqual(sticking);
  });

  test("the chances agree with writing out every world, and no link falls", () => {
    fc.assert(
      fc.property(networks, fc.record({ stalls: fc.nat(4), jerks: fc.nat(4), slow: fc.nat(4) }), (network, times) => {
        const reported = saidIn(times);
        const after = withRepeatedTrouble(network, reported);
        const present = reported.map(({ finding }) => finding.id);
        const evidence = { present, absent: WORDS.map((word) => `iris/${word}`).filter((id) => !present.includes(id)) };
        network.faults.forEach((fault, i) => {
          for (const [id, link] of marginals(fault))
            expect(marginals(after.faults[i]!).get(id)).toBeGreaterThanOrEqual(link - 1e-12);
        });
        const slow = enumerated(after, evidence);
        if (slow.probability === 0) return;
        const fast = infer(after, evidence);
        slow.posteriors.forEach((value, i) => void expect(fast.posteriors[`f${i}`]).toBeCloseTo(value, 10));
      }),
      { numRuns: 100 },
    );
  });
});

test("every word is its neighbours' neighbour, none its own, and each row says why", () => {
  for (const word of SYMPTOM_IDS) {
    expect(alsoCalled(word).has(word)).toBe(false);
    for (const other of alsoCalled(word)) expect(alsoCalled(other).has(word)).toBe(true);
  }
  for (const { because } of SAID_FOR_EACH_OTHER) expect(because).not.toBe("");
});
