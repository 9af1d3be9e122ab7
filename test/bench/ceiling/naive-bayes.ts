import type { Observation } from "../../../src/diagnosis/model/observation.ts";

/** A case whose class is known. */
export interface Learnt {
  readonly is: string;
  readonly features: ReadonlySet<string>;
}

/** Every symptom by its function, and by the step in which it was reported. */
export const asFeatures = (observations: readonly Observation[]): ReadonlySet<string> =>
  new Set(
    observations.flatMap(({ routine, functions, symptoms }) =>
      symptoms.flatMap(({ symptom, function: id }) => [
        symptom,
        `${symptom} ${id ?? "fixture"}`,
        `${symptom} ${routine} ${functions.map((one) => one.function).join()}`,
      ]),
    ),
  );

/** Counts added to each, so that nothing is impossible (Laplace). */
const ADDED = 0.1;

/** Bernoulli naive Bayes, every class alike before; the likeliest first. */
export const naiveBayes = (lessons: readonly Learnt[]) => {
  const classes = [...new Set(lessons.map(({ is }) => is))];
  const vocabulary = [...new Set(lessons.flatMap(({ features }) => [...features]))];
  const learnt = classes.map((is) => {
    const own = lessons.filter((one) => one.is === is);
    const chance = (feature: string) =>
      (own.filter(({ features }) => features.has(feature)).length + ADDED) / (own.length + 2 * ADDED);
    const chances = new Map(vocabulary.map((feature) => [feature, chance(feature)]));
    const quiet = [...chances.values()].reduce((sum, one) => sum + Math.log(1 - one), 0);
    return { is, chances, quiet };
  });
  return (features: ReadonlySet<string>) => {
    const logs = learnt.map(({ is, chances, quiet }) => ({
      is,
      log: [...features].reduce((sum, feature) => {
        const chance = chances.get(feature);
        return chance === undefined ? sum : sum + Math.log(chance / (1 - chance));
      }, quiet),
    }));
    const most = Math.max(...logs.map(({ log }) => log));
    const whole = logs.reduce((sum, { log }) => sum + Math.exp(log - most), 0);
    return logs
      .map(({ is, log }) => ({ is, probability: Math.exp(log - most) / whole }))
      .sort((a, b) => b.probability - a.probability);
  };
};
