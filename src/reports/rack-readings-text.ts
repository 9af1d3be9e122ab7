import type { ChartRow, ReadingsChart } from "./rack-readings.ts";
import { cut, padded, widthOf, wrapped } from "./wrap.ts";

const WIDTH = 80;
/** How many columns the scale itself has. */
const TRACK = 44;

/** All charts of a rack in words, and at the end, once, what they can and cannot show. */
export const chartsText = (charts: readonly ReadingsChart[]): readonly string[] => [
  ...charts.flatMap((chart) => [...chartText(chart), "", ""]),
  ...[...new Set(charts.map(({ shows }) => shows))].flatMap((words) => wrapped(words, WIDTH)),
];

/** A chart as text: one row for each fixture along a scale from the smallest to the largest, the middle and the limits marked. */
const chartText = (chart: ReadingsChart): readonly string[] => {
  const { quantity, unit, kind, rows, limits, said } = chart;
  const scale = scaleOf(chart);
  const widest = (words: readonly string[]) => Math.max(...words.map(widthOf));
  const width = {
    serial: Math.min(16, widest(rows.map(({ serial }) => serial))),
    value: widest(rows.map(({ words }) => words)),
  };
  return [
    ...wrapped(`${quantity[0]?.toUpperCase()}${quantity.slice(1)}${unit && `, ${unit}`}: ${kind}`, WIDTH),
    "",
    ...rows.map((row) =>
      `  ${padded(cut(row.serial, 16), width.serial)}  ${row.words.padStart(width.value)}  ${track(chart, scale, row)}  ${row.odd ? "odd" : ""}`.trimEnd(),
    ),
    ...(limits ? ["", "  o a reading    | the middle of those that are not suspect    [ ] the limits"] : []),
    ...(said.length > 0 ? [""] : []),
    ...said.flatMap((words) => wrapped(words, WIDTH)),
  ];
};

interface TextScale {
  readonly from: number;
  readonly to: number;
}

const scaleOf = ({ rows, limits }: ReadingsChart): TextScale => {
  const marks = [...rows.map(({ value }) => value), ...(limits ? [limits.low, limits.high] : [])];
  return { from: Math.min(...marks), to: Math.max(...marks) };
};

/** The reading stands over whatever mark is at its place. */
const track = ({ limits }: ReadingsChart, scale: TextScale, { value }: ChartRow): string => {
  const cells = new Array<string>(TRACK).fill(".");
  if (limits) {
    cells[cellAt(scale, limits.low)] = "[";
    cells[cellAt(scale, limits.high)] = "]";
    cells[cellAt(scale, limits.middle)] = "|";
  }
  cells[cellAt(scale, value)] = "o";
  return cells.join("");
};

const cellAt = ({ from, to }: TextScale, value: number): number =>
  to > from ? Math.round(((TRACK - 1) * (value - from)) / (to - from)) : Math.floor(TRACK / 2);
