import type { TriedCase } from "../../../src/app/simulated/trial-case.ts";
import { lessonsOf, rankedBy } from "../../../src/app/simulated/trial-learned.ts";
import { hitsOf } from "../../../src/app/simulated/trial-rates.ts";
import type { Profile } from "../../../src/data/profile/profile.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";

const SHOPS = 5;
const LESSONS = 300;
const ASKED = 100;

/**
 * Simulated shops in which few faults make most of the cases (the n-th commonest comes 1/n times as often): how often the right
 * answer is first before anything was learned, and after 300 confirmed cases, by other runs of the same faults.
 */
export const skewedShops = (
  halves: readonly [readonly TriedCase[], readonly TriedCase[]],
  profile: Profile,
): { readonly before: number; readonly after: number; readonly clean: number } => {
  const shops = Array.from({ length: SHOPS }, (_, n) => oneShop(halves, profile, n + 1));
  const over = (figure: (shop: (typeof shops)[number]) => number) =>
    shops.reduce((sum, shop) => sum + figure(shop), 0) / SHOPS;
  return { before: over((one) => one.before), after: over((one) => one.after), clean: over((one) => one.clean) };
};

function oneShop([one, other]: readonly [readonly TriedCase[], readonly TriedCase[]], profile: Profile, seed: number) {
  const chance = chanceFrom(seed);
  const known = other.map(({ set }) => set.join());
  const faults = [
    ...new Set(
      one.filter(({ kind, set }) => kind === "one" && known.includes(set.join())).map(({ set }) => set.join()),
    ),
  ];
  const common = faults.map((fault) => ({ fault, at: chance() })).sort((a, b) => a.at - b.at);
  const weights = common.map((_, n) => 1 / (n + 1));
  const drawn = (from: readonly TriedCase[], count: number) =>
    Array.from({ length: count }, () => {
      const fault = common[weighted(weights, chance)]?.fault;
      const own = from.filter(({ kind, set }) => kind === "one" && set.join() === fault);
      return own[Math.floor(chance() * own.length)];
    }).filter((drew) => drew !== undefined);
  const clean = (from: readonly TriedCase[]) => from.filter(({ kind }) => kind === "clean");
  const asked = drawn(other, ASKED);
  const learned = lessonsOf([...drawn(one, LESSONS), ...clean(one)], profile);
  const after = rankedBy(learned, [...asked, ...clean(other)], profile);
  const share = (cases: readonly TriedCase[]) => {
    const { first } = hitsOf(cases.filter(({ kind }) => kind === "one"));
    return first.right / first.of;
  };
  const cleanAfter = clean(after);
  return {
    before: share(asked.map((tried) => ({ ...tried, ranked: tried.rankedBefore }))),
    after: share(after),
    clean: cleanAfter.filter(({ ranked: [first] }) => first?.id === "nothing-broken").length / cleanAfter.length,
  };
}

function weighted(weights: readonly number[], chance: () => number): number {
  let left = chance() * weights.reduce((sum, one) => sum + one, 0);
  const at = weights.findIndex((one) => {
    left -= one;
    return left < 0;
  });
  return at < 0 ? weights.length - 1 : at;
}
