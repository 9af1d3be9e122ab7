import type { Probability } from "../units.ts";

/** The mean of `values`, in their own unit; not a number when there are none. */
export const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/**
 * The variance of a sample, in the square of the unit of `values`: divided by one less than their
 * number, so not a number for fewer than two.
 */
export const variance = (values: readonly number[]): number => {
  const middle = mean(values);
  return values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1);
};

/**
 * The middle one of `values`, or the mean of the two in the middle, in their own unit; not a number when there are none.
 */
export const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? Number.NaN) + (sorted[Math.floor(half)] ?? Number.NaN)) / 2;
};

/** An estimate and its standard error; no error where the readings are only just as many as the unknowns. */
export interface Estimate {
  readonly value: number;
  readonly error: number | undefined;
}

/**
 * Ordinary least squares: one estimate for each column of the table, so that rows times estimates come nearest to the
 * readings. `readings` are in any one unit, one for each row. Undefined where the columns cannot be told apart.
 */
export const leastSquares = (
  table: readonly (readonly number[])[],
  readings: readonly number[],
): readonly Estimate[] | undefined => {
  const columns = (table[0] ?? []).map((_, i) => table.map((row) => row[i] ?? 0));
  const inverse = invert(columns.map((one) => columns.map((other) => dot(one, other))));
  if (!inverse) return undefined;
  const values = inverse.map((row) =>
    dot(
      row,
      columns.map((column) => dot(column, readings)),
    ),
  );
  const misses = readings.map((reading, i) => reading - dot(table[i] ?? [], values));
  const spare = readings.length - columns.length;
  const noise = spare > 0 ? dot(misses, misses) / spare : undefined;
  return values.map((value, i) => ({
    value,
    error: noise === undefined ? undefined : Math.sqrt(noise * (inverse[i]?.[i] ?? 0)),
  }));
};

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);

/** The inverse of a square table, by Gauss and Jordan with the largest pivot; undefined when it is as good as singular. */
const invert = (square: readonly (readonly number[])[]): readonly (readonly number[])[] | undefined => {
  const size = square.length;
  let rows = square.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let column = 0; column < size; column++) {
    const of = (row: readonly number[]) => Math.abs(row[column] ?? 0);
    const best = rows.slice(column).reduce((a, b) => (of(b) > of(a) ? b : a));
    if (of(best) <= 1e-9 * Math.max(...square.map(of))) return undefined;
    const pivot = best.map((value) => value / (best[column] ?? 1));
    const others = rows
      .filter((row) => row !== best)
      .map((row) => row.map((value, j) => value - (row[column] ?? 0) * (pivot[j] ?? 0)));
    rows = [...others.slice(0, column), pivot, ...others.slice(column)];
  }
  return rows.map((row) => row.slice(size));
};

/** A number of hits out of a number of tries, with the 95 % interval of their share. */
export interface Share {
  readonly hits: number;
  readonly of: number;
  readonly low: Probability;
  readonly high: Probability;
}

/** The two-sided 95 % point of the normal distribution. */
const Z = 1.959963984540054;

/**
 * A share with its score interval (Wilson 1927); the whole range from 0 to 1 when there is nothing to count. `hits` is a
 * count from 0 to `of`, and `of` is how many were tried.
 */
export const shareOf = (hits: number, of: number): Share => {
  if (of === 0) return { hits, of, low: 0, high: 1 };
  const share = hits / of;
  const middle = (share + (Z * Z) / (2 * of)) / (1 + (Z * Z) / of);
  const half = (Z * Math.sqrt((share * (1 - share)) / of + (Z * Z) / (4 * of * of))) / (1 + (Z * Z) / of);
  return { hits, of, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
};
