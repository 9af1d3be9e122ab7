import type { Probability } from "../../domain/units.ts";
import { type FaultId, knownFault } from "./knowledge/faults.ts";
import type { Suspect } from "./looks.ts";
import type { Search } from "./search.ts";

const titleOf = (id: FaultId): string => knownFault(id).title;

/** "would find: iris leaf bent, or iris leaves burnt or dry". */
export function sayFinds(suspects: readonly Suspect[]): string {
  const named = [...suspects].sort((a, b) => b.probability * b.told - a.probability * a.told).slice(0, 2);
  return `would find: ${named.map(({ id }) => titleOf(id)).join(", or ")}`;
}

/** "would part: iris leaf bent (shows) from iris lever slack at its motor (stays quiet)". */
export function sayTells({ suspects, imagined }: Search, shows: (id: FaultId) => Probability): string {
  const loud = likeliest(suspects, shows);
  if (!loud) return "would tell more";
  const quietly = (id: FaultId) => 1 - shows(id);
  const others = suspects.filter(({ id }) => id !== loud.id);
  const quiet = likeliest(others, quietly);
  if (!quiet || imagined > quiet.probability * quietly(quiet.id))
    return `would make sure: shows again if it is ${titleOf(loud.id)}`;
  return `would part: ${titleOf(loud.id)} (shows) from ${titleOf(quiet.id)} (stays quiet)`;
}

const likeliest = (suspects: readonly Suspect[], weigh: (id: FaultId) => number): Suspect | undefined =>
  suspects.reduce<Suspect | undefined>(
    (best, one) => (best && best.probability * weigh(best.id) >= one.probability * weigh(one.id) ? best : one),
    undefined,
  );
