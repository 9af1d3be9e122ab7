import type { Question } from "./networks.ts";

/**
 * The probability of the evidence as the textbooks have it (Quickscore, Heckerman 1989): a signed sum over all subsets of
 * the present symptoms. Beside ours, to show what it costs and how many digits it loses.
 */
export function textbookProbability({ network: { faults, symptoms }, evidence }: Question): number {
  const present = symptoms.filter(({ id }) => evidence.present.includes(id));
  const absent = symptoms.filter(({ id }) => evidence.absent.includes(id));
  let sum = 0;
  for (let subset = 0; subset < 2 ** present.length; subset++) {
    const off = [...absent, ...present.filter((_, bit) => (subset >> bit) & 1)];
    const leaks = off.reduce((left, { leak }) => left * (1 - leak), 1);
    const term = faults.reduce(
      (product, { id, prior }) =>
        product * (1 - prior + prior * off.reduce((left, { links }) => left * (1 - (links[id] ?? 0)), 1)),
      leaks,
    );
    sum += ones(subset) % 2 === 0 ? term : -term;
  }
  return sum;
}

function ones(bits: number): number {
  let count = 0;
  for (let rest = bits; rest > 0; rest >>= 1) count += rest & 1;
  return count;
}
