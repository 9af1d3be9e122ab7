import type { Probability } from "../../domain/units.ts";
import { type Case, isAbsent } from "./case.ts";
import { type Beta, learnLinks } from "./learn-links.ts";
import type { Network } from "./network-shape.ts";
import type { Figure, Learned } from "./shop.ts";

/** A starter prior counts as much as this many fixtures, a starter link as much as so many cases. Judgement. */
const PRIOR_WEIGHT = 40;
const LINK_WEIGHT = 8;

/** The shop's numbers from all its cases, reckoned anew from the starter values each time. */
export const learn = (network: Network, cases: readonly Case[]): Learned => ({
  priors: Object.fromEntries(
    network.faults
      .map(({ id, prior }) => [id, learnPrior(id, prior, cases)] as const)
      .filter(([, figure]) => figure.of > 0),
  ),
  links: learnLinks(network, cases, (link) => ({ a: 1 + link * LINK_WEIGHT, b: 1 + (1 - link) * LINK_WEIGHT })).links,
});

/** Beta prior and counting: what was neither found nor looked for counts neither way. */
function learnPrior(fault: string, prior: Probability, cases: readonly Case[]): Figure {
  const yes = cases.filter(({ confirmed }) => confirmed.includes(fault)).length;
  const no = cases.filter((one) => isAbsent(fault, one)).length;
  const { mean } = betaUpdate({ a: prior * PRIOR_WEIGHT, b: (1 - prior) * PRIOR_WEIGHT }, yes, yes + no);
  return { value: mean, yes, of: yes + no };
}

/** Beta(a, b) after `yes` of `of`, with its mean. */
export const betaUpdate = ({ a, b }: Beta, yes: number, of: number): Beta & { readonly mean: Probability } => ({
  a: a + yes,
  b: b + of - yes,
  mean: (a + yes) / (a + b + of),
});
