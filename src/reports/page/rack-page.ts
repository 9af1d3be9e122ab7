import { h, s } from "hastscript";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { ChartRow, ReadingsChart } from "../rack-readings.ts";
import { DEFER, type FixtureLine, type RackSheet, timeInWords, unnamedInWords } from "../rack-sheet.ts";
import { cut } from "../wrap.ts";
import { documentOf, list, type Piece, section, table } from "./document.ts";
import { places } from "./pictures.ts";

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

const stateOf = ({ state, hidden }: FixtureLine): string =>
  hidden.length > 0 ? `${state} (hidden fault: ${hidden.join("; ")})` : state;

const WIDTH = 600;
const ROW = 20;
/** Left of the scale stand serial numbers, right of it the values. */
const [FROM, TO] = [130, 500];
const MOST_COLUMNS = 16;

/** One reading of every fixture along a scale, the middle and the limits as upright lines; what is odd is said beside it. */
const readingsDrawing = (chart: ReadingsChart): Piece => {
  const along = scaleOf(chart);
  const { rows, limits, quantity, unit, kind, said } = chart;
  const height = rows.length * ROW + 10;
  const upright = (value: number, name: string) =>
    s("line", { class: name, x1: along(value), x2: along(value), y1: 4, y2: height - 6 });
  const title = `${quantity}${unit && `, ${unit}`}: ${safeText(kind)}`;
  return h("figure", [
    s(
      "svg",
      { viewBox: `0 0 ${WIDTH} ${height}`, role: "img", ariaLabel: `${title}. ${said.map(safeText).join(" ")}` },
      [
        ...(limits
          ? [upright(limits.low, "limit"), upright(limits.middle, "travel"), upright(limits.high, "limit")]
          : []),
        ...rows.flatMap((row, index) => rowDrawing(row, along(row.value), index * ROW + ROW / 2 + 4)),
      ],
    ),
    h("figcaption", [title, ...said.map((words) => h("p", safeText(words)))]),
  ]);
};

const rowDrawing = ({ serial, words, odd }: ChartRow, x: number, y: number): readonly Piece[] => [
  s("text", { x: 0, y: y + 4 }, cut(safeText(serial), MOST_COLUMNS)),
  s("circle", { class: "dot", cx: x, cy: y, r: 4 }),
  s("text", { x: TO + 12, y: y + 4 }, odd ? `${words} suspect` : words),
];

const scaleOf = ({ rows, limits }: ReadingsChart): ((value: number) => number) => {
  const marks = [...rows.map(({ value }) => value), ...(limits ? [limits.low, limits.high] : [])];
  const [least, greatest] = [Math.min(...marks), Math.max(...marks)];
  const share = (value: number) => (greatest > least ? (value - least) / (greatest - least) : 0.5);
  return (value) => Math.round((FROM + share(value) * (TO - FROM)) * 10) / 10;
};
