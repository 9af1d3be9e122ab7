import { type Every, type Need, needInWords, type ReleaseLevel } from "../../data/shop/shop.ts";
import { type Fitted, mechanismsOf } from "../../diagnosis/model/places.ts";
import { inspection, inspectionsOf } from "../../domain/trade/inspections.ts";
import type { RunEvent } from "../events/event.ts";
import { impossibleReadings } from "./by-hand-rules.ts";
import { eventsIn, type History, lastOf, NEVER } from "./history.ts";
import { isMeasured, latestLooks } from "./look-facts.ts";
import { ALWAYS, type Reason, reasonsAgainst } from "./rules.ts";
import { untestedSteps } from "./step-rules.ts";

/** The whole check-in: every rule of release. */
export const FULL = "full";

/**
 * Everything that blocks a release that asks for these needs. What is wrong, dangerous or unfinished blocks every level:
 * a level only says how much is to be tested, inspected and measured.
 */
export const reasonsAtLevel = (
  history: History,
  fitted: readonly Fitted[],
  due: readonly Need[] | typeof FULL,
): readonly Reason[] => {
  const all = reasonsAgainst(history, fitted);
  if (due === FULL) return all;
  return [
    ...all.filter(({ rule }) => ALWAYS.has(rule)),
    ...impossibleReadings(history).map((words) => ({ rule: "measured" as const, words })),
    ...due.flatMap((need) => unmet(need, history, fitted)),
  ];
};

/** Why a need is not met by what was written since the fixture came back. */
const unmet = (need: Need, history: History, fitted: readonly Fitted[]): readonly Reason[] => {
  switch (need.kind) {
    case "sequence":
      return unplayed(need.name, history).map((words) => ({ rule: "tested", words }));
    case "inspection":
      return latestLooks(history).get(need.name)?.answer === "good"
        ? []
        : [{ rule: "looked", words: `not inspected: ${needInWords(need)}` }];
    case "cover":
      return inspectionsOf(mechanismsOf(fitted))
        .filter((id) => inspection(id).cover === need.name)
        .flatMap((name) => unmet({ kind: "inspection", name }, history, fitted));
    case "measurement":
      return isTaken(need.name, history)
        ? []
        : [{ rule: "measured", words: `no signed measurement: ${needInWords(need)}` }];
    case "full":
      return [{ rule: "tested", words: "a full check is due" }];
    default:
      return need satisfies never;
  }
};

/** Every step of the sequence passed, in one of its runs or in what was played again of one. */
const unplayed = (name: string, history: History): readonly string[] => {
  const runs = new Set(
    history.flatMap(({ run, body }) =>
      body.kind === "run-opened" && (body.sequence.name === name || body.replays !== undefined) ? [run] : [],
    ),
  );
  const own = history.filter(({ run }) => runs.has(run));
  const played = own.some(({ body }) => body.kind === "run-opened" && body.sequence.name === name);
  return played ? untestedSteps(own) : [`not played: sequence ${name}`];
};

const isTaken = (name: Extract<Need, { kind: "measurement" }>["name"], history: History): boolean =>
  lastOf(
    history,
    "reading-taken",
    (body) => body.reading === name && body.verdict === "within" && body.initials.trim() !== "" && isMeasured(body),
  ) !== NEVER;

/** When a need was met last, and what has passed since. */
export interface Due {
  readonly need: Need;
  /** It must be met before this release. */
  readonly now: boolean;
  /** "after 3 more returns or 120 h", "at every return", "now". */
  readonly words: string;
}

/**
 * What a level asks for at this return, and when the rest is due.
 *
 * @param history everything written of the fixture, over all its returns, in the order of writing
 * @param today ISO 8601
 */
export const dueAt = (level: ReleaseLevel, history: readonly RunEvent[], today: string): readonly Due[] =>
  level.needs.map(({ need, every }) => dueOf(need, every, history, today));

const dueOf = (need: Need, every: Every, history: readonly RunEvent[], today: string): Due => {
  if (every.kind === "return") return { need, now: true, words: "at every return" };
  const since = history.slice(lastMet(need, history) + 1);
  const lefts = [
    left(every.returns, eventsIn(since, "signed-off").length, (n) => `${n} more ${n === 1 ? "return" : "returns"}`),
    left(every.hours, hoursIn(since), (n) => `${Math.ceil(n)} h`),
    left(every.strikes, strikesIn(since), (n) => `${n} ${n === 1 ? "lamp strike" : "lamp strikes"}`),
    left(every.months, monthsIn(since, today), (n) => monthsInWords(n)),
  ].flatMap((one) => one ?? []);
  const now = lefts.some(({ over }) => over);
  return { need, now, words: now ? "now" : `after ${lefts.map(({ words }) => words).join(" or ")}` };
};

/** Whole months, never more than are left; on the first day none of them has gone yet. */
const monthsInWords = (months: number): string => {
  const whole = Math.floor(months + A_DAY);
  return whole < 1 ? "less than a month" : `${whole} ${whole === 1 ? "month" : "months"}`;
};
/** A day, as a share of a month. */
const A_DAY = 1 / 30;

const left = (limit: number | undefined, used: number, inWords: (left: number) => string) =>
  limit === undefined ? undefined : { over: used >= limit, words: inWords(limit - used) };

/** The place in the history at which it was met last; NEVER counts from the first event there is. */
const lastMet = (need: Need, history: readonly RunEvent[]): number => {
  switch (need.kind) {
    case "full":
      return lastOf(history, "signed-off", ({ level }) => level === undefined);
    case "measurement":
      return lastOf(history, "reading-taken", (body) => body.reading === need.name && body.verdict === "within");
    case "inspection":
      return lastOf(history, "inspected", (body) => body.inspection === need.name && body.answer === "good");
    case "cover":
      return lastOf(
        history,
        "inspected",
        (body) => inspection(body.inspection).cover === need.name && body.answer === "good",
      );
    case "sequence":
      return history.findLastIndex(({ body }) => body.kind === "run-opened" && body.sequence.name === need.name);
    default:
      return need satisfies never;
  }
};

/** Hours of the light source between the first and the last measurement of them; 0 where there are not two. */
const hoursIn = (history: readonly RunEvent[]): number =>
  riseOf(
    eventsIn(history, "reading-taken").flatMap(({ body }) =>
      body.reading === "source-hours" && body.value !== undefined ? [body.value] : [],
    ),
  );

/** Lamp strikes, as far as the fixture itself has told of them. */
const strikesIn = (history: readonly RunEvent[]): number =>
  riseOf(eventsIn(history, "fixture-said").flatMap(({ body }) => body.counters.LAMP_STRIKES ?? []));

/** By how much a counter has gone up. One that is lower than before was set back, or its board was changed: it has counted from 0 since. */
const riseOf = (counts: readonly number[]): number =>
  counts.reduce((sum, count, index) => {
    const before = counts[index - 1] ?? count;
    return sum + (count < before ? count : count - before);
  }, 0);

const MONTH_MS = (365.25 / 12) * 24 * 3600 * 1000;
const monthsIn = (history: readonly RunEvent[], today: string): number =>
  history[0] ? Math.max(0, (Date.parse(today) - Date.parse(history[0].at)) / MONTH_MS) : 0;
