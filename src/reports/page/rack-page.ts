import { h } from "hastscript";
import { safeText } from "../../domain/problem/terminal.ts";
import type { ReadingsChart } from "../rack-readings.ts";
import { DEFER, type FixtureLine, type RackSheet, timeInWords, unnamedInWords } from "../rack-sheet.ts";
import { documentOf, list, type Piece, section, table } from "./document.ts";
import { places } from "./pictures.ts";
import { readingsDrawing } from "./readings-drawing.ts";

/** What came of a rack run, as a page: the odd ones first, every fixture in a row, and what it cost in time. */
export const rackPage = (sheet: RackSheet): string =>
  documentOf(`Rack: ${safeText(sheet.title)}`, [
    h("h1", safeText(sheet.title)),
    h("p", { class: "state" }, tallyOf(sheet)),
    ...(sheet.simulated ? [h("p", { class: "notice" }, "SIMULATED: simulated fixtures, not real ones.")] : []),
    h("p", `Run ${safeText(sheet.run)}; ${sheet.ended}.`),
    ...section("Something wrong", [...faulty(sheet), ...unnamed(sheet)]),
    ...section("The rack", [plan(sheet)]),
    ...section("All fixtures", all(sheet)),
    h("footer", [h("p", timeInWords(sheet)), h("p", DEFER)]),
  ]);

/** Readings of a rack side by side, as a page. */
export const readingsPage = (title: string, charts: readonly ReadingsChart[]): string =>
  documentOf(`Readings: ${safeText(title)}`, [
    h("h1", `Readings: ${safeText(title)}`),
    ...(charts.length === 0 ? [h("p", "No readings in this table.")] : charts.map(readingsDrawing)),
    ...section("What they can show", list([...new Set(charts.map(({ shows }) => safeText(shows)))])),
  ]);

const tallyOf = ({ fixtures }: RackSheet): string => {
  const states = [...new Set(fixtures.map(({ state }) => state))];
  const counts = states.map((state) => `${state}: ${fixtures.filter((one) => one.state === state).length}`);
  return [`${fixtures.length} ${fixtures.length === 1 ? "fixture" : "fixtures"}`, ...counts].join("; ");
};

const faulty = ({ fixtures }: RackSheet): readonly Piece[] =>
  table(
    "Named by whoever watched",
    ["Serial", "Seen", "What it may be", "Place"],
    fixtures
      .filter(({ state }) => state === "fault seen" || state === "suspect")
      .map(({ serial, place, symptoms, mayBe, state }) => [
        safeText(serial),
        state === "suspect" ? "suspect, not described yet" : symptoms.join("; "),
        mayBe ?? "",
        safeText(place),
      ]),
  );

const unnamed = ({ unnamed: presses }: RackSheet): readonly Piece[] =>
  presses.map((one) => h("p", safeText(unnamedInWords(one))));

/** Every fixture where it stands in the rack file, what was wrong in a heavier frame. */
const plan = ({ fixtures }: RackSheet): Piece =>
  places(
    fixtures.map(({ serial, place, state }) => ({
      name: safeText(serial),
      words: [safeText(place), state].filter(Boolean).join(": "),
      wrong: state === "fault seen" || state === "suspect" ? "wrong" : "not wrong",
    })),
  );

const all = ({ fixtures }: RackSheet): readonly Piece[] =>
  table(
    "In the order of the rack",
    ["Serial", "State", "Place", "Run"],
    fixtures.map((one) => [safeText(one.serial), stateOf(one), safeText(one.place), safeText(one.run)]),
  );

const stateOf = ({ state, set }: FixtureLine): string =>
  set.length > 0 ? `${state} (hidden fault: ${set.join(", ")})` : state;
