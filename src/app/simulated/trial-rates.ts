import { FIXED_TEMPER, type Temper, tempered } from "../../diagnosis/model/claims.ts";
import { bestLookAt, FAULTS, type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { mean, shareOf, variance } from "../../domain/statistics/sample.ts";
import { COVERS, type CoverId } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { Probability } from "../../domain/units.ts";
import type { TriedCase } from "./trial-case.ts";

/** A share with the interval in which it probably lies, for another draw of faults: faults count, not runs. */
export interface Rate {
  readonly right: number;
  readonly of: number;
  readonly interval95: { readonly low: number; readonly high: number };
}

/** How often the right answer stood first, and how often among the first three. */
export interface Hits {
  readonly first: Rate;
  readonly firstThree: Rate;
}

/** How often the right answer was first, and how often among the first three, with their intervals. */
export const hitsOf = (cases: readonly TriedCase[]): Hits => ({
  first: byFault(cases, (one) => isWithin(one, 1)),
  firstThree: byFault(cases, (one) => isWithin(one, 3)),
});

/**
 * Faults that are named, best first. "Nothing broken" is an answer only where nothing was set: a fault that
 * is named below it has still been named.
 */
export const namedIn = ({ ranked }: Pick<TriedCase, "ranked">) => ranked.filter(({ id }) => id !== "nothing-broken");

/**
 * Whether something that was set is among the first of the faults that are named.
 * `places` is how many are looked at, from 1.
 */
export const isWithin = (one: TriedCase, places: number): boolean =>
  namedIn(one)
    .slice(0, places)
    .some(({ id }) => one.right.some((answers) => answers.includes(id)));

/** Whether each of what was set is among the first three. */
export const areAllWithinThree = (one: TriedCase): boolean =>
  one.right.every((answers) =>
    namedIn(one)
      .slice(0, 3)
      .some(({ id }) => answers.includes(id)),
  );

/** Whether "nothing broken" was first. */
export const isNamedClean = ({ ranked: [first] }: TriedCase): boolean => first?.id === "nothing-broken";

/** Whether a wrong answer was called conclusive. */
export const isSettledWrongly = ({ kind, settled, right }: TriedCase): boolean =>
  settled.some((id) => (id === "nothing-broken" ? kind !== "clean" : !right.some((answers) => answers.includes(id))));

/** Something on no list was there, and a fault that is on it was claimed with this or more. */
const SURELY = 0.75;
/** Whether a fault was first with a claim of three quarters or more. */
export const isClaimedSurely = ({ ranked: [first] }: TriedCase): boolean =>
  first !== undefined && first.id !== "nothing-broken" && tempered(first.probability, FIXED_TEMPER.power) >= SURELY;

/** The share of runs that came out right, of runs that have no fault in common, with its interval. */
export const plainRate = (cases: readonly TriedCase[], isRight: (one: TriedCase) => boolean): Rate => {
  const right = cases.filter(isRight).length;
  const { low, high } = shareOf(right, cases.length);
  return { right, of: cases.length, interval95: { low, high } };
};

function byFault(cases: readonly TriedCase[], isRight: (one: TriedCase) => boolean): Rate {
  const faults = [...new Set(cases.map(({ set }) => set.join()))];
  const shares = faults.map((fault) => {
    const own = cases.filter(({ set }) => set.join() === fault);
    return own.filter(isRight).length / own.length;
  });
  if (shares.length < 2 || shares.length === cases.length) return plainRate(cases, isRight);
  const half = 1.96 * Math.sqrt(variance(shares) / shares.length);
  const middle = mean(shares);
  return {
    right: cases.filter(isRight).length,
    of: cases.length,
    interval95: { low: Math.max(0, middle - half), high: Math.min(1, middle + half) },
  };
}

/** How sure what was first was said to be, 0 to 1, and whether it was right. */
interface FirstClaim {
  readonly claim: Probability;
  readonly right: boolean;
}

/** What was claimed first of each case, with the odds of the model at this power. */
export const claimsIn = (cases: readonly TriedCase[], { power }: Temper): readonly FirstClaim[] =>
  cases.flatMap((one) => {
    const [first] = one.ranked;
    return first ? [{ claim: tempered(first.probability, power), right: isRight(one, first.id) }] : [];
  });

/** How often claims were right, by how sure they were. */
export const calibrationOf = (claims: readonly FirstClaim[]) =>
  BANDS.map(([from, to]) => {
    const within = claims.filter(({ claim }) => claim >= from && claim < to);
    const right = within.filter((one) => one.right).length;
    const { low, high } = shareOf(right, within.length);
    return {
      from,
      to,
      of: within.length,
      claimed: within.length === 0 ? 0 : mean(within.map(({ claim }) => claim)),
      right,
      interval95: { low, high },
    };
  });

const BANDS = [
  [0, 0.5],
  [0.5, 0.7],
  [0.7, 0.9],
  [0.9, 1.01],
] as const;

const isRight = ({ kind, right }: TriedCase, id: string): boolean =>
  id === "nothing-broken" ? kind === "clean" : right.some((answers) => answers.includes(id));

/**
 * The faults in the order of how often a bench meets them (common practice, no source), the rest as the knowledge has them:
 * the order in which one would open covers without being told anything.
 */
export const USUAL_ORDER: readonly FaultId[] = [
  ...new Set<FaultId>([
    "settings-changed",
    "address-or-mode",
    "lens-grime",
    "lamp-worn",
    "filter-clogged",
    "fan-tired",
    "board-plug-loose",
    "gobo-wheel-sensor",
    "colour-wheel-sensor",
    "fixed-gobos-sensor",
    "flag-sticks",
    "tilt-belt-slack",
    "pan-belt-slack",
    "pan-encoder-dirty",
    "tilt-encoder-dirty",
    "gobo-holder",
    "gobo-spring",
    "gobo-gear",
    "iris-leaf-bent",
    "zoom-rails-dry",
    "focus-rails-dry",
    "loom-tired",
    "shutter-drags",
    "prism-arm-drags",
    "frost-warped",
    "driver-dead",
    "motor-open",
    "supply-weak",
    "source-driver",
    "yoke-bent",
    "data-socket",
    ...FAULTS.map(({ id }) => id),
  ]),
];

/**
 * Minutes of looking by hand until a right fault is looked at, with those that were spent already; what the ranking does not
 * name is looked for in the usual order. `closedAfter` counts the inspections after which the fixture was closed again.
 */
export const minutesByHand = (
  ranked: readonly FaultId[],
  right: readonly FaultId[],
  inspected: readonly InspectionId[] = [],
  closedAfter: readonly number[] = [],
): number => minutesUntil([...new Set([...ranked, ...USUAL_ORDER])], right, inspected, closedAfter);

/**
 * Minutes until one of the right faults is looked at, in this order; each cover is opened once, what is looked at twice
 * costs once. `inspected` is what was done before, at its price; `closedAfter` after how many of that the fixture was closed
 * and driven again, so that a cover has to come off once more. What was watched then is not counted here.
 */
export const minutesUntil = (
  order: readonly FaultId[],
  right: readonly FaultId[],
  inspected: readonly InspectionId[] = [],
  closedAfter: readonly number[] = [],
): number => {
  const opened = new Set<CoverId>();
  const looked = new Set<InspectionId>();
  let minutes = 0;
  const lookAt = (look: InspectionId) => {
    const { cover, minutes: own } = inspection(look);
    if (!opened.has(cover)) minutes += COVERS[cover].minutes;
    if (!looked.has(look)) minutes += own;
    opened.add(cover);
    looked.add(look);
  };
  for (const [n, look] of inspected.entries()) {
    lookAt(look);
    if (closedAfter.includes(n + 1)) opened.clear();
  }
  for (const id of order) {
    lookAt(bestLookAt(knownFault(id)));
    if (right.includes(id)) return minutes;
  }
  return minutes;
};
