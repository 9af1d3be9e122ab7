/** One line of a benchmark: what we measured of ours and of what a user would otherwise have, in the same run. */
export interface Row {
  readonly name: string;
  readonly unit: string;
  readonly ours: number;
  /** Undefined where the other has nothing to compare. */
  readonly alternative: number | undefined;
  /** Alternative divided by ours, sizes only; undefined where one of them is missing or ours is 0. */
  readonly ratio: number | undefined;
}

export const row = (name: string, unit: string, ours: number, alternative?: number): Row => ({
  name,
  unit,
  ours,
  alternative,
  ratio: alternative === undefined || ours === 0 ? undefined : Math.abs(alternative / ours),
});

const rounded = (value: number | undefined) => (value === undefined ? "-" : String(Number(value.toPrecision(4))));

/** As people read them, columns by two spaces. */
export const table = (rows: readonly Row[]): string => {
  const cells = [
    ["", "ours", "other", "ratio", "unit"],
    ...rows.map(({ name, unit, ours, alternative, ratio }) => [
      name,
      rounded(ours),
      rounded(alternative),
      rounded(ratio),
      unit,
    ]),
  ];
  const widths = [0, 1, 2, 3, 4].map((column) => Math.max(...cells.map((line) => line[column]?.length ?? 0)));
  return cells.map((line) => line.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join("  ")).join("\n");
};
