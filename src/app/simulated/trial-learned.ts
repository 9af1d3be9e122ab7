import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { CLEAN, caseFrom } from "../../diagnosis/model/case.ts";
import { isFault } from "../../diagnosis/model/knowledge/faults.ts";
import { learn, wholeTrade } from "../../diagnosis/model/learn.ts";
import { rank } from "../../diagnosis/model/rank.ts";
import { type Learned, NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import { faultNames, plannedOnly, type TriedCase } from "./trial-case.ts";
import { calibrationOf, claimsIn, hitsOf, isNamedClean, plainRate } from "./trial-rates.ts";

/**
 * How well runs of a trial are named where each half is judged with the numbers and the temper that the confirmed finds of
 * the other half taught: no run is judged or tempered by itself. The temper comes from `learn`, as in a shop: from what the starter values said first of these finds.
 */
export const learnedIn = (cases: readonly TriedCase[], profile: Profile) => {
  const halves = halvesOf(cases);
  const judged = halves.map((half, n) => {
    const learned = lessonsOf(halves[1 - n] ?? [], profile);
    return { temper: learned.temper, cases: rankedBy(learned, half, profile) };
  });
  const all = judged.flatMap((half) => half.cases);
  return {
    ...hitsOf(all.filter(({ kind }) => kind === "one")),
    clean: plainRate(
      all.filter(({ kind }) => kind === "clean"),
      isNamedClean,
    ),
    tempers: judged.map(({ temper }) => temper),
    calibration: calibrationOf(judged.flatMap((half) => claimsIn(half.cases, half.temper))),
  };
};

/** What the confirmed finds of these runs teach, as a shop learns from its own. */
export const lessonsOf = (others: readonly TriedCase[], profile: Profile): Learned => {
  const fitted = fittedOf(profile);
  const lesson = (one: TriedCase) =>
    one.kind === "clean"
      ? CLEAN
      : caseFrom(fitted, plannedOnly(one), [], {
          confirmed: one.right.flatMap(([first]) => (first !== undefined && isFault(first) ? [first] : [])),
          cleared: [],
          rest: "unknown",
        });
  return others.length === 0 ? NOTHING_LEARNED : learn(wholeTrade(), others.map(lesson));
};

/** Runs ranked again by what others have taught. */
export const rankedBy = (learned: Learned, asked: readonly TriedCase[], profile: Profile): readonly TriedCase[] =>
  asked.map((one) => ({
    ...one,
    ranked: faultNames(rank(fittedOf(profile), plannedOnly(one), [], learned).faults),
  }));

/** Deals runs into two halves, each fault for itself, so that both halves know every fault that was run twice. */
export const halvesOf = (cases: readonly TriedCase[]): readonly [readonly TriedCase[], readonly TriedCase[]] => {
  const met = new Map<string, number>();
  const turns = cases.map(({ kind, set }) => {
    const key = kind === "one" ? set.join() : kind;
    const turn = met.get(key) ?? 0;
    met.set(key, turn + 1);
    return turn % 2;
  });
  return [cases.filter((_, i) => turns[i] === 0), cases.filter((_, i) => turns[i] === 1)];
};
