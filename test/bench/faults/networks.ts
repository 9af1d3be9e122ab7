import type { Evidence, Network } from "../../../src/diagnosis/model/layers.ts";

/** A two-layer network of a shape, with evidence; the same seed gives the same one. */
export interface Shape {
  readonly faults: number;
  readonly symptoms: number;
  readonly present: number;
  /** Faults that can show a symptom, from and to. */
  readonly parents: readonly [number, number];
}

export interface Question {
  readonly network: Network;
  readonly evidence: Evidence;
}

/** Some symptoms present, the same number again not inspected, all others absent. */
export function randomQuestion(shape: Shape, seed: number): Question {
  const next = numbers(seed);
  const faults = Array.from({ length: shape.faults }, (_, i) => ({ id: `f${i}`, prior: 0.005 + 0.04 * next() }));
  const [from, to] = shape.parents;
  const symptoms = Array.from({ length: shape.symptoms }, (_, j) => {
    const count = from + Math.floor(next() * (to - from + 1));
    const parents = Array.from({ length: count }, () => Math.floor(next() * shape.faults));
    return {
      id: `s${j}`,
      leak: 0.001 + 0.02 * next(),
      links: Object.fromEntries(parents.map((i) => [`f${i}`, 0.05 + 0.9 * next()])),
    };
  });
  const ids = symptoms.map(({ id }) => id);
  return {
    network: { faults, symptoms },
    evidence: { present: ids.slice(0, shape.present), absent: ids.slice(2 * shape.present) },
  };
}

/** Linear congruential numbers from 0 to 1 (Numerical Recipes' constants): benchmarks must be repeatable. */
function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
