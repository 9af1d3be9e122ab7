import { h, s } from "hastscript";
import { safeText } from "../../domain/problem/terminal.ts";
import type { ChartRow, ReadingsChart } from "../rack-readings.ts";
import { cut } from "../wrap.ts";
import type { Piece } from "./document.ts";

const WIDTH = 600;
const ROW = 20;
/** Left of the scale stand serial numbers, right of it the values. */
const [FROM, TO] = [130, 500];
const MOST_COLUMNS = 16;

/** One reading of every fixture along a scale, the middle and the limits as upright lines; what is odd is said beside it. */
export const readingsDrawing = (chart: ReadingsChart): Piece => {
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
