import { median } from "./sample.ts";

/** Makes the median deviation of normal values as large as their standard deviation. */
const NORMAL = 0.6745;

/**
 * How far each value lies from the median, in median deviations ("modified z", Iglewicz and Hoaglin 1993). Undefined
 * where more than half of the values are the same: their median deviation is 0 then, and says nothing. `values` are
 * readings in any one unit, at least one.
 */
export const medianDistances = (values: readonly number[]): readonly number[] | undefined => {
  const middle = median(values);
  const deviation = median(values.map((value) => Math.abs(value - middle)));
  return deviation > 0 ? values.map((value) => (NORMAL * Math.abs(value - middle)) / deviation) : undefined;
};
