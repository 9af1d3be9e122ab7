import type { InspectionId } from "../../domain/trade/inspections.ts";
import type { Probability } from "../../domain/units.ts";
import { type FaultId, knownFault } from "./knowledge/faults.ts";
import { inspectionLeak } from "./knowledge/leaks.ts";
import type { Showing } from "./showing.ts";

/** An answer that leads, with its share among those that do. */
export interface Leading {
  readonly id: FaultId | "nothing-broken";
  readonly share: Probability;
}

/** How many answers are told apart; the rest is too unlikely to decide what to do next. */
const LEADING = 6;

/** The likeliest answers, as if one of them were the right one: their probabilities add up to 1. */
export function leadingOf(
  suspects: readonly { readonly id: FaultId; readonly probability: Probability }[],
  nothing: Probability,
): readonly Leading[] {
  const all = [
    ...suspects.map(({ id, probability }) => ({ id, weight: probability })),
    { id: "nothing-broken" as const, weight: nothing },
  ]
    .sort((a, b) => b.weight - a.weight)
    .slice(0, LEADING);
  const whole = all.reduce((sum, { weight }) => sum + weight, 0) || 1;
  return all.map(({ id, weight }) => ({ id, share: weight / whole }));
}

/** Expected information of a test about which of the leading answers it is, in bits: the first symptom that shows, or none. */
export function bitsOfTest(leading: readonly Leading[], showings: readonly Showing[]): number {
  const rows = leading.map(({ id }) =>
    showings.map((one) => (id === "nothing-broken" ? one.imagined : Math.max(one.by.get(id) ?? 0, one.imagined))),
  );
  const quiet = rows.map((row) => row.reduce((left, one) => left * (1 - one), 1));
  const sums = rows.map((row) => row.reduce((sum, one) => sum + one, 0));
  const first = showings.map((_, i) =>
    rows.map((row, a) => ((1 - (quiet[a] ?? 1)) * (row[i] ?? 0)) / Math.max(sums[a] ?? 0, Number.MIN_VALUE)),
  );
  return bitsOf(leading, [...first, quiet]);
}

/** Expected information of an inspection about which of the leading answers it is, in bits: good or bad. */
export function bitsOfLook(leading: readonly Leading[], look: InspectionId): number {
  const bad = leading.map(({ id }) => {
    const found: Readonly<Partial<Record<InspectionId, Probability>>> =
      id === "nothing-broken" ? {} : knownFault(id).found;
    return Math.max(found[look] ?? 0, inspectionLeak(look));
  });
  return bitsOf(leading, [bad, bad.map((one) => 1 - one)]);
}

/** Mutual information between the leading answers and the outcomes, each a row of probabilities by answer. */
function bitsOf(leading: readonly Leading[], outcomes: readonly (readonly Probability[])[]): number {
  return outcomes.reduce((sum, row) => {
    const weights = leading.map(({ share }, a) => share * (row[a] ?? 0));
    const whole = weights.reduce((total, one) => total + one, 0);
    return (
      sum +
      weights.reduce(
        (total, one, a) => total + (one > 0 ? one * Math.log2(one / (whole * (leading[a]?.share ?? 1))) : 0),
        0,
      )
    );
  }, 0);
}

/** What an inspection would find, in words: "would find: iris leaf bent, or iris leaves burnt or dry". */
export function sayFinds(
  suspects: readonly { readonly id: FaultId; readonly probability: Probability; readonly told: Probability }[],
): string {
  const named = [...suspects].sort((a, b) => b.probability * b.told - a.probability * a.told).slice(0, 2);
  return `would find: ${named.map(({ id }) => titleOf(id)).join(", or ")}`;
}

/** What may show in a test, in words: "may show: colour flag binds when warm, or zoom binds when warm". */
export const sayMayShow = (faults: readonly FaultId[]): string =>
  `may show: ${faults.slice(0, 2).map(titleOf).join(", or ")}`;

/**
 * What a test tells apart, in words: "tells iris leaf bent from iris lever slack at its
 * motor: only iris leaf bent would show".
 */
export function sayTells(leading: readonly Leading[], shows: (id: Leading["id"]) => Probability): string {
  const loud = likeliest(leading, shows);
  if (!loud || loud.id === "nothing-broken") return "would tell more";
  const quiet = likeliest(
    leading.filter(({ id }) => id !== loud.id),
    (id) => 1 - shows(id),
  );
  if (!quiet || quiet.id === "nothing-broken") return `confirms ${titleOf(loud.id)} if it shows`;
  return `tells ${titleOf(loud.id)} from ${titleOf(quiet.id)}: only ${titleOf(loud.id)} would show`;
}

const titleOf = (id: FaultId): string => knownFault(id).title;

const likeliest = (leading: readonly Leading[], weigh: (id: Leading["id"]) => number): Leading | undefined =>
  leading.reduce<Leading | undefined>(
    (best, one) => (best && best.share * weigh(best.id) >= one.share * weigh(one.id) ? best : one),
    undefined,
  );
