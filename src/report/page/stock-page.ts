import { h } from "hastscript";
import { knownFault } from "../../faults/knowledge/faults.ts";
import { STANDINGS } from "../../memory/standing.ts";
import type { Stock, StockFixture } from "../../memory/stock.ts";
import { safeText } from "../../problem/terminal.ts";
import { documentOf, type Piece, section, table } from "./document.ts";

/** What stands on the shelf, what ails it, and what to order, as a page to print or send. */
export const stockPage = (stock: Stock): string =>
  documentOf("Stock", [
    h("h1", "Stock"),
    h("p", { class: "state" }, tallyOf(stock.fixtures)),
    ...(stock.simulated ? [h("p", { class: "notice" }, "SIMULATED: simulated fixtures, not real ones.")] : []),
    ...section("Fixtures", fixtures(stock)),
    ...section("Faults found", faults(stock)),
    ...section("Parts wanted", parts(stock)),
    ...section("Came back with the same fault", returning(stock)),
    ...section("How long a check takes", minutes(stock)),
    h("footer", [h("p", leftOutInWords(stock))]),
  ]);

const tallyOf = (all: readonly StockFixture[]): string => {
  const counts = new Map<string, number>();
  for (const { standing } of all) counts.set(STANDINGS[standing], (counts.get(STANDINGS[standing]) ?? 0) + 1);
  const states = [...counts].map(([words, count]) => `${words}: ${count}`);
  return [`${all.length} ${all.length === 1 ? "fixture" : "fixtures"}`, ...states].join("; ");
};

const fixtures = (stock: Stock): readonly Piece[] =>
  table(
    "As each stands after its last run",
    ["Serial", "Last run", "State", "Kind"],
    stock.fixtures.map(({ serial, profile, standing, at }) => [
      safeText(serial),
      at.slice(0, 10),
      STANDINGS[standing],
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
      hours < 48 ? `${Math.round(hours)} h` : `${Math.round(hours / 24)} days`,
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

const leftOutInWords = ({ simulated, leftOut }: Stock): string =>
  [
    "A state here is what the runs say; it does not call a fixture safe to use.",
    ...(leftOut.otherKind > 0
      ? [`${leftOut.otherKind} ${simulated ? "real" : "simulated"} runs are not counted.`]
      : []),
    ...(leftOut.withoutSerial > 0 ? [`${leftOut.withoutSerial} runs without a serial number are not counted.`] : []),
  ].join(" ");
