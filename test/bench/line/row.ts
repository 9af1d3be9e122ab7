/** One line of a benchmark: what we measured of ours and of what a user would otherwise have, in the same run. */
export interface Row {
  readonly name: string;
  readonly unit: string;
  readonly ours: number;
  /** Undefined where the other has nothing to compare. */
  readonly alternative: number | undefined;
  /** Alternative divided by ours, sizes only; undefined where one of them is missing or ours is 0. */
  readonly ratio: number | undefined;
  /** The least and the greatest ratio when the benchmark was run several times; ours and the alternative are then medians. */
  readonly spread: readonly [least: number, greatest: number] | undefined;
}

export const row = (name: string, unit: string, ours: number, alternative?: number): Row => ({
  name,
  unit,
  ours,
  alternative,
  ratio: alternative === undefined || ours === 0 ? undefined : Math.abs(alternative / ours),
  spread: undefined,
});

/** The same benchmark run several times, as one. */
export const merged = (runs: readonly (readonly Row[])[]): readonly Row[] =>
  (runs[0] ?? []).map(({ name, unit }) => {
    const same = runs.flatMap((rows) => rows.filter((one) => one.name === name));
    const ratios = same.flatMap(({ ratio }) => ratio ?? []);
    const alternatives = same.flatMap(({ alternative }) => alternative ?? []);
    const all = row(
      name,
      unit,
      middle(same.map(({ ours }) => ours)),
      alternatives.length > 0 ? middle(alternatives) : undefined,
    );
    return ratios.length > 1 ? { ...all, spread: [Math.min(...ratios), Math.max(...ratios)] } : all;
  });

const middle = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

const rounded = (value: number | undefined) => (value === undefined ? "-" : String(Number(value.toPrecision(4))));

/** As people read them, columns by two spaces. */
export const table = (rows: readonly Row[]): string => {
  const cells = [
    ["", "ours", "other", "ratio", "least to greatest", "unit"],
    ...rows.map(({ name, unit, ours, alternative, ratio, spread }) => [
      name,
      rounded(ours),
      rounded(alternative),
      rounded(ratio),
      spread ? spread.map(rounded).join(" to ") : "-",
      unit,
    ]),
  ];
  const widths = [0, 1, 2, 3, 4, 5].map((column) => Math.max(...cells.map((line) => line[column]?.length ?? 0)));
  return cells.map((line) => line.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join("  ")).join("\n");
};
