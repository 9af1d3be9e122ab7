import { h } from "hastscript";
import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import type { Stock } from "../../run/memory/stock.ts";
import { STATE_WORDS } from "../../run/release/release-status.ts";
import { hoursInWords, leftOutInWords, stockTally } from "../status-words.ts";
import { documentOf, type Piece, section, table } from "./document.ts";
import { faultsByKind, oldestWaiting } from "./overview-page.ts";

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
