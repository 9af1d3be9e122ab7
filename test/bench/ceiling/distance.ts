import type { TriedCase } from "../../../src/app/simulated/trial-case.ts";
import { rankedBy } from "../../../src/app/simulated/trial-learned.ts";
import { type Hits, hitsOf, isWithin } from "../../../src/app/simulated/trial-rates.ts";
import { fittedOf, type Profile } from "../../../src/data/profile/profile.ts";
import { isStranger, networkFor } from "../../../src/diagnosis/model/network.ts";
import { type Learned, NOTHING_LEARNED } from "../../../src/diagnosis/model/shop.ts";
import type { Probability } from "../../../src/domain/units.ts";
import { type Row, row } from "../line/row.ts";

/**
 * What a part of the distance between the model and a classifier is made of. The trial sets every fault equally often, and so
 * the classifier takes them; the model expects each as often as it comes back to a bench, and also what is never simulated.
 */
interface Distance {
  /** Today's model, as it is. */
  readonly product: Hits;
  /** The same with all faults that were set expected alike. */
  readonly alike: Hits;
  /** The same, and what was never set hardly expected at all. */
  readonly onlySet: Hits;
}

/** Ranks the planned steps of all runs of one fault anew, three times, each time with other priors. */
export const distanceOf = (cases: readonly TriedCase[], profile: Profile): Distance => {
  const ones = cases.filter(({ kind }) => kind === "one");
  const hits = (learned: Learned) => hitsOf(rankedBy(learned, ones, profile));
  return {
    product: hits(NOTHING_LEARNED),
    alike: hits(alikePriors(ones, profile, "as they are")),
    onlySet: hits(alikePriors(ones, profile, "hardly any")),
  };
};

/** So seldom that it plays no part. */
const HARDLY: Probability = 1e-9;

/**
 * Priors under which everything that was set in these runs is expected equally often, all of it together as often as before: an
 * answer that is right for several faults that were set as often as these together, one of several right answers for its share.
 * `others` is what becomes of the faults that are no right answer.
 */
export const alikePriors = (
  ones: readonly TriedCase[],
  profile: Profile,
  others: "as they are" | "hardly any",
): Learned => {
  const shares = sharesOf(ones);
  const faults = networkFor(fittedOf(profile)).faults.filter(({ id }) => !isStranger(id));
  const set = faults.filter(({ id }) => shares.has(id));
  const before = set.reduce((sum, { prior }) => sum + prior, 0);
  const whole = set.reduce((sum, { id }) => sum + (shares.get(id) ?? 0), 0);
  const priorOf = (id: string): Probability => (before * (shares.get(id) ?? 0)) / whole;
  const changed = others === "as they are" ? set : faults;
  return {
    ...NOTHING_LEARNED,
    priors: Object.fromEntries(
      changed.map(({ id }) => [id, { value: shares.has(id) ? priorOf(id) : HARDLY, yes: 0, of: 0 }]),
    ),
    // One fixture that was not clean: without any record no learned number would be taken.
    clean: { value: 0, yes: 0, of: 1 },
  };
};

/** How many of the faults that were set each answer is right for. */
const sharesOf = (ones: readonly TriedCase[]): ReadonlyMap<string, number> => {
  const shares = new Map<string, number>();
  for (const answers of answersOf(ones).values())
    for (const id of answers) shares.set(id, (shares.get(id) ?? 0) + 1 / answers.length);
  return shares;
};

/** The right answers of each fault that was set. */
const answersOf = (ones: readonly TriedCase[]): ReadonlyMap<string, readonly string[]> =>
  new Map(ones.map(({ set, right: [answers = []] }) => [set.join(), answers]));

/** Shares, 0 to 1. */
interface MetHits {
  readonly first: number;
  readonly firstThree: number;
}

/**
 * The same shares as a shop would meet them: a fault that was set counts as often as its right answer comes back, or all of its
 * right answers together. Where an answer is right for several of them, they share it.
 */
export const asMet = (cases: readonly TriedCase[], profile: Profile): MetHits => {
  const ones = cases.filter(({ kind }) => kind === "one");
  const priors = new Map(networkFor(fittedOf(profile)).faults.map(({ id, prior }) => [id, prior]));
  const shares = sharesOf(ones);
  const faults = [...answersOf(ones)].map(([fault, answers]) => {
    const own = ones.filter(({ set }) => set.join() === fault);
    const weight = answers.reduce(
      (sum, id) => sum + (priors.get(id) ?? 0) / (answers.length * (shares.get(id) ?? 1)),
      0,
    );
    return { weight, hits: (places: number) => own.filter((one) => isWithin(one, places)).length / own.length };
  });
  const whole = faults.reduce((sum, { weight }) => sum + weight, 0);
  const share = (places: number) => faults.reduce((sum, { weight, hits }) => sum + weight * hits(places), 0) / whole;
  return { first: share(1), firstThree: share(3) };
};

/** Both as sentences. */
export const tellDistance = ({ product, alike, onlySet }: Distance, met: MetHits, beside: MetHits): string =>
  [
    "What the distance to a classifier is made of (planned steps, today's model, simulated):",
    `  priors as they are: how often a fault comes back    ${hitsInWords(product)}`,
    `  all faults that were set expected alike             ${hitsInWords(alike)}`,
    `  the same, and hardly anything else expected         ${hitsInWords(onlySet)}`,
    "Each fault weighted by how often it comes back, as a shop would meet them:",
    `  the model                                           ${metInWords(met)}`,
    `  naive Bayes, to which all faults are alike          ${metInWords(beside)}`,
  ].join("\n");

const hitsInWords = ({ first, firstThree }: Hits): string =>
  `first ${first.right} of ${first.of}, in the first three ${firstThree.right} of ${firstThree.of}`;
const metInWords = ({ first, firstThree }: MetHits): string =>
  `first ${percent(first)}, in the first three ${percent(firstThree)}`;
const percent = (share: number): string => `${Math.round(share * 100)} %`;

/** Both as rows. */
export const distanceRows = ({ product, alike, onlySet }: Distance, met: MetHits, beside: MetHits): readonly Row[] => {
  const share = ({ right, of }: Hits["first"]) => (100 * right) / of;
  return [
    row("all faults expected alike, beside as they come back: first", "%", share(alike.first), share(product.first)),
    row(
      "all faults expected alike, beside as they come back: first three",
      "%",
      share(alike.firstThree),
      share(product.firstThree),
    ),
    row("and nothing else expected, beside as they come back: first", "%", share(onlySet.first), share(product.first)),
    row(
      "and nothing else expected, beside as they come back: first three",
      "%",
      share(onlySet.firstThree),
      share(product.firstThree),
    ),
    row("as a shop meets them, beside naive Bayes: first", "%", 100 * met.first, 100 * beside.first),
    row("as a shop meets them, beside naive Bayes: first three", "%", 100 * met.firstThree, 100 * beside.firstThree),
  ];
};
