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
