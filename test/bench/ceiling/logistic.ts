import type { Learnt } from "./naive-bayes.ts";

const ROUNDS = 200;
const STEP = 0.5;
/** Pulls every weight towards 0, so that what was met once does not decide alone. */
const PULL = 0.001;

/**
 * Multinomial logistic regression on the same features as naive Bayes, by plain gradient descent from 0; the likeliest first.
 * Unlike naive Bayes it does not count the same thing twice where two features say it.
 */
export const logistic = (lessons: readonly Learnt[]) => {
  const classes = [...new Set(lessons.map(({ is }) => is))];
  const places = new Map([...new Set(lessons.flatMap(({ features }) => [...features]))].map((one, i) => [one, i]));
  const inputs = lessons.map(({ features }) => numbered(features, places));
  const truths = lessons.map(({ is }) => classes.indexOf(is));
  const weights = classes.map(() => new Float64Array(places.size + 1));
  for (let round = 0; round < ROUNDS; round++) improve(weights, inputs, truths);
  return (features: ReadonlySet<string>) => {
    const shares = softmax(weights, numbered(features, places));
    return classes.map((is, c) => ({ is, probability: shares[c] ?? 0 })).sort((a, b) => b.probability - a.probability);
  };
};

/** The features that were met, by their places; the last place is always there. */
const numbered = (features: ReadonlySet<string>, places: ReadonlyMap<string, number>): readonly number[] => [
  ...[...features].flatMap((one) => places.get(one) ?? []),
  places.size,
];

function improve(
  weights: readonly Float64Array[],
  inputs: readonly (readonly number[])[],
  truths: readonly number[],
): void {
  const slopes = weights.map((row) => row.map((weight) => PULL * weight));
  inputs.forEach((input, i) => {
    const shares = softmax(weights, input);
    slopes.forEach((slope, c) => {
      const error = ((shares[c] ?? 0) - (truths[i] === c ? 1 : 0)) * (weights.length / inputs.length);
      for (const place of input) slope[place] = (slope[place] ?? 0) + error;
    });
  });
  weights.forEach((row, c) => {
    slopes[c]?.forEach((slope, place) => {
      row[place] = (row[place] ?? 0) - STEP * slope;
    });
  });
}

function softmax(weights: readonly Float64Array[], input: readonly number[]): readonly number[] {
  const sums = weights.map((row) => input.reduce((sum, place) => sum + (row[place] ?? 0), 0));
  const most = Math.max(...sums);
  const shares = sums.map((sum) => Math.exp(sum - most));
  const whole = shares.reduce((sum, one) => sum + one, 0);
  return shares.map((one) => one / whole);
}
