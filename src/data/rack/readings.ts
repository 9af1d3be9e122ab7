import { bad, byPlace, good, hintFor, type Problem, type Result } from "../../domain/problem/problem.ts";
import { readTable, type TableRow } from "../../domain/problem/table.ts";
import { FUNCTION_IDS, type FunctionId } from "../../domain/trade/functions.ts";
import type { Lux, Metres, Seconds } from "../../domain/units.ts";
import type { Rack, RackFixture } from "./rack.ts";

/** What was measured of one fixture; each part may be missing. */
export interface Readings {
  readonly fixture: RackFixture;
  readonly light: { readonly lux: Lux; readonly at: Metres } | undefined;
  /** CIE 1931 chromaticity. */
  readonly colour: { readonly x: number; readonly y: number } | undefined;
  /** From one end to the other. */
  readonly travel: ReadonlyMap<FunctionId, Seconds>;
}

/**
 * The light at another distance: four times as far, a sixteenth (inverse square law). Holds for a source that is small
 * beside the distance; a narrow beam from a lens follows it only roughly, so that distances had better differ little.
 */
export const luxAt = ({ lux, at }: { readonly lux: Lux; readonly at: Metres }, metres: Metres): Lux =>
  lux * (at / metres) ** 2;

/**
 * The distance that most readings were taken at, the first of them where several are as frequent, so that the fewest
 * readings are converted; undefined where there are none.
 */
export const usualDistance = (distances: readonly Metres[]): Metres | undefined => {
  const count = (metres: Metres) => distances.filter((one) => one === metres).length;
  return distances.reduce<Metres | undefined>(
    (most, one) => (most === undefined || count(one) > count(most) ? one : most),
    undefined,
  );
};

/** "Pan_s": the time that a full travel takes. */
const travelColumn = (id: FunctionId): string => `${id}_s`;

const COLUMNS = { needed: ["serial"], others: ["lux", "at_m", "x", "y", ...FUNCTION_IDS.map(travelColumn)] } as const;

/**
 * Readings of a rack from a table with one row for each fixture: lux and the distance in metres it was read at, colour x and y,
 * full travel times in seconds (columns Pan_s, Tilt_s, Zoom_s ...). Cells may be empty. Mistakes name their line.
 */
export const readingsFromTable = (source: string, text: string, rack: Rack): Result<readonly Readings[]> => {
  const table = readTable(source, text, COLUMNS);
  if (!table.ok) return table;
  const { rows } = table.value;
  const problems = rows.flatMap((row, index) => [
    ...serialProblems(rack, rows.slice(0, index), row),
    ...cellProblems(row),
  ]);
  return problems.length > 0 ? bad(...byPlace(problems)) : good(rows.flatMap((row) => readingsIn(rack, row)));
};

const serialProblems = ({ fixtures }: Rack, before: readonly TableRow[], row: TableRow): readonly Problem[] => {
  const serial = row.cell("serial");
  const known = fixtures.map((fixture) => fixture.serial);
  if (serial === undefined) return [row.problem(undefined, '"serial" is empty')];
  if (!known.includes(serial))
    return [row.problem("serial", `there is no ${serial} in this rack`, hintFor(serial, known))];
  return before.some((other) => other.cell("serial") === serial)
    ? [row.problem("serial", `${serial} came before`, "one row for each fixture")]
    : [];
};

const cellProblems = (row: TableRow): readonly Problem[] => [
  ...together(row, "lux", "at_m", "light is told with the distance it was read at"),
  ...together(row, "x", "y", "a colour has both"),
  ...["x", "y"].flatMap((column) => notBetween(row, column, 1)),
  ...["lux", "at_m", ...FUNCTION_IDS.map(travelColumn)].flatMap((column) => notBetween(row, column, 1e7)),
];

const together = (row: TableRow, one: string, other: string, hint: string): readonly Problem[] =>
  (row.cell(one) === undefined) === (row.cell(other) === undefined)
    ? []
    : [row.problem(undefined, `"${one}" and "${other}" go together`, hint)];

const notBetween = (row: TableRow, column: string, most: number): readonly Problem[] => {
  const cell = row.cell(column);
  const value = numberIn(row, column);
  if (cell === undefined || (value !== undefined && value > 0 && value <= most)) return [];
  return [row.problem(column, `"${cell}" is not a reading`, most === 1 ? "above 0, at most 1" : "a number above 0")];
};

/** The decimal mark may be a comma. */
const numberIn = (row: TableRow, column: string): number | undefined => {
  const cell = row.cell(column)?.replace(",", ".");
  return cell !== undefined && /^\d+(\.\d+)?$/.test(cell) ? Number(cell) : undefined;
};

const readingsIn = ({ fixtures }: Rack, row: TableRow): readonly Readings[] => {
  const [lux, at, x, y] = ["lux", "at_m", "x", "y"].map((column) => numberIn(row, column));
  const travel = FUNCTION_IDS.flatMap((id) => {
    const seconds = numberIn(row, travelColumn(id));
    return seconds === undefined ? [] : [[id, seconds] as const];
  });
  return fixtures
    .filter(({ serial }) => serial === row.cell("serial"))
    .map((fixture) => ({
      fixture,
      light: lux !== undefined && at !== undefined ? { lux, at } : undefined,
      colour: x !== undefined && y !== undefined ? { x, y } : undefined,
      travel: new Map(travel),
    }));
};
