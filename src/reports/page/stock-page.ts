import { h } from "hastscript";
import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { Stock, StockFixture } from "../../run/memory/stock.ts";
import { STATE_WORDS } from "../../run/release/release-status.ts";
import { hoursInWords, leftOutInWords, stockTally } from "../status-words.ts";
import { documentOf, type Piece, section, table } from "./document.ts";
import { type CountedThing, countedBars, figure, numberBars } from "./pictures.ts";

/** What stands on the shelf, what ails it, and what to order, as a page to print or send. */
export const stockPage = (stock: Stock, today: string): string =>
  documentOf("Stock", [
    h("h1", "Stock"),
    h("p", { class: "state" }, stockTally(stock.fixtures)),
    ...(stock.simulated ? [h("p", { class: "notice" }, "SIMULATED: simulated fixtures, not real ones.")] : []),
    ...section("Oldest waiting", oldestWaiting(stock.fixtures, today, MOST_WAITING)),
    ...section("Faults by kind", faultsByKind(stock)),
    ...section("Fixtures", fixtures(stock)),
    ...section("Faults found", faults(stock)),
    ...section("Parts needed", parts(stock)),
    ...section("Came back with the same fault", returning(stock)),
    ...section("How long a check takes", minutes(stock)),
    h("footer", [h("p", leftOutInWords(stock))]),
  ]);

const MOST_WAITING = 8;

const fixtures = (stock: Stock): readonly Piece[] =>
  table(
    "As each stands now",
    ["Serial", "Last run", "State", "Kind"],
    stock.fixtures.map(({ serial, profile, state, at }) => [
      safeText(serial),
      at.slice(0, 10),
      STATE_WORDS[state],
      safeText(profile),
    ]),
  );

const faults = (stock: Stock): readonly Piece[] =>
  table(
    "Confirmed by hand, the commonest first",
    ["Fault", "Times", "Kind", "In"],
    stock.faults.map(({ fault, profile, found, serials }) => [
      knownFault(fault).title,
      String(found),
      safeText(profile),
      serials.map(safeText).join(", "),
    ]),
  );

const parts = (stock: Stock): readonly Piece[] =>
  table(
    "For faults found in fixtures that have not passed since",
    ["Part", "Number", "For"],
    stock.parts.map(({ part, fixtures: waiting }) => [
      part,
      String(waiting.length),
      waiting.map(({ serial, profile }) => `${safeText(serial)} (${safeText(profile)})`).join(", "),
    ]),
  );

const returning = (stock: Stock): readonly Piece[] =>
  table(
    "Found again in a later job",
    ["Serial", "Times", "Fault", "After"],
    stock.returning.map(({ serial, fault, times, hours }) => [
      safeText(serial),
      String(times),
      knownFault(fault).title,
      hoursInWords(hours),
    ]),
  );

const minutes = (stock: Stock): readonly Piece[] =>
  table(
    "Finished runs, breaks left out",
    ["Sequence", "Minutes", "Kind", "Runs"],
    stock.minutes.map(({ sequence, profile, runs, mean }) => [
      safeText(sequence),
      mean.toFixed(1),
      safeText(profile),
      String(runs),
    ]),
  );

/** How many of each fit on one screen. */
const MOST = 5;

/**
 * The shop on one screen, for whoever runs it: how many are ready, what waits longest,
 * what breaks most, what is to be ordered.
 */
export const overviewPage = (stock: Stock, today: string): string =>
  documentOf("Overview", [
    h("h1", `Overview, ${today.slice(0, 10)}`),
    ...(stock.simulated ? [h("p", { class: "notice" }, "SIMULATED: simulated fixtures, not real ones.")] : []),
    h("div", { class: "figures" }, [...figures(stock)]),
    h("div", { class: "side-by-side" }, [
      part("Oldest waiting", oldestWaiting(stock.fixtures, today, MOST)),
      part("Faults by kind", faultsByKind(stock)),
      part("Parts to order", partsToOrder(stock)),
    ]),
    h("footer", [h("p", leftOutInWords(stock))]),
  ]);

const part = (heading: string, pieces: readonly Piece[]): Piece => h("div", [...section(heading, pieces)]);

const figures = ({ fixtures, parts: wanted, returning }: Stock): readonly Piece[] => {
  const ready = fixtures.filter(({ state }) => state === "ready").length;
  const states = [...new Set(fixtures.map(({ state }) => state))].filter((state) => state !== "ready");
  return [
    figure(fixtures.length, "fixtures"),
    figure(ready, STATE_WORDS.ready),
    ...states.map((state) => figure(fixtures.filter((one) => one.state === state).length, STATE_WORDS[state])),
    figure(
      wanted.reduce((sum, { fixtures: waiting }) => sum + waiting.length, 0),
      "parts to order",
    ),
    figure(returning.length, "came back with the same"),
  ];
};

/** What is not ready, by days since its last run, the longest first. `most` is how many bars there are at most, from 1. */
export const oldestWaiting = (fixtures: readonly StockFixture[], today: string, most: number): readonly Piece[] =>
  numberBars(
    "Days since the last run, of what is not ready",
    ["Fixture", "Days"],
    fixtures
      .filter(({ state }) => state !== "ready")
      .map(
        (one): CountedThing => ({ name: safeText(one.serial), count: daysBetween(one.at, today), note: reasonOf(one) }),
      )
      .sort((a, b) => b.count - a.count)
      .slice(0, most),
  );

const reasonOf = ({ because, state }: StockFixture): string => safeText(because[0] ?? STATE_WORDS[state]);

const daysBetween = (from: string, to: string): number =>
  Math.max(0, Math.floor((Date.parse(to) - Date.parse(from)) / 86_400_000));

/** The faults found over all kinds of fixture, ordered by count, with their share. */
export const faultsByKind = ({ faults }: Stock): readonly Piece[] => {
  const counts = new Map<string, number>();
  for (const { fault, found } of faults)
    counts.set(knownFault(fault).title, (counts.get(knownFault(fault).title) ?? 0) + found);
  return countedBars(
    "Confirmed by hand, the commonest first",
    "Fault",
    [...counts].map(([name, count]) => ({ name, count, note: "" })),
  );
};

const partsToOrder = ({ parts: wanted }: Stock): readonly Piece[] =>
  numberBars(
    "For faults found in fixtures that have not passed since",
    ["Part", "Number"],
    wanted.slice(0, MOST).map(({ part, fixtures }) => ({
      name: part,
      count: fixtures.length,
      note: fixtures
        .slice(0, 3)
        .map(({ serial }) => safeText(serial))
        .join(", "),
    })),
  );
