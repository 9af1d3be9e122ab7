import { type Need, needInWords, type ReleaseLevel } from "../../data/shop/shop.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import type { RunEvent } from "../events/event.ts";
import { type Due, dueAt, FULL, reasonsAtLevel } from "./levels.ts";
import { sinceRelease } from "./release-status.ts";
import type { Reason } from "./rules.ts";

/** A level at which a fixture could be released now, or what blocks it there. */
export interface LevelOffer {
  readonly level: string;
  readonly due: readonly Need[] | typeof FULL;
  /** Empty when only the signature is missing. */
  readonly reasons: readonly Reason[];
  /** Everything the level ever asks for, and when it is due. */
  readonly needs: readonly Due[];
}

/**
 * What each level of release still asks for: the full check first, then the shop's levels in their order.
 *
 * @param history everything written of the fixture, in the order of writing @param today ISO 8601
 */
export const levelOffers = (
  levels: readonly ReleaseLevel[],
  history: readonly RunEvent[],
  fitted: readonly Fitted[],
  today: string,
): readonly LevelOffer[] => {
  const { episode } = sinceRelease(history, fitted);
  const shops = levels.map((level) => {
    const needs = dueAt(level, history, today);
    const due = needs.flatMap((one) => (one.now ? [one.need] : []));
    return { level: level.name, due, needs, reasons: reasonsAtLevel(episode, fitted, due) };
  });
  return [{ level: FULL, due: FULL, needs: [], reasons: reasonsAtLevel(episode, fitted, FULL) }, ...shops];
};

/** The most thorough level at which nothing blocks the release; undefined where something blocks every level. */
export const bestOffer = (offers: readonly LevelOffer[]): LevelOffer | undefined =>
  offers.find(({ reasons }) => reasons.length === 0);

/** The level with the fewest reasons against a release; undefined where there is no level. */
export const nearestOffer = (offers: readonly LevelOffer[]): LevelOffer | undefined =>
  offers.toSorted((a, b) => a.reasons.length - b.reasons.length)[0];

/**
 * What is due later, in words: "Due next: full check after 3 more returns or 120 h." Empty where
 * nothing is ever due besides every return.
 */
export const dueNextInWords = ({ needs }: LevelOffer): string => {
  const later = needs.filter(({ words, now }) => !now && words !== "at every return");
  return later.length === 0
    ? ""
    : `Due next: ${later.map(({ need, words }) => `${needInWords(need)} ${words}`).join("; ")}.`;
};
