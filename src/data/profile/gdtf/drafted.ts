import type { FunctionFile } from "../schema.ts";

/** One function as it will stand in the profile file, and what is to be said beside it. */
export interface Drafted {
  readonly spec: FunctionFile;
  /** Where its numbers come from, when that is not plain from the file. */
  readonly remarks: readonly string[];
  /** Keys whose value is only a usual one: the file does not say, somebody must measure. */
  readonly measure: readonly string[];
}

/** Why a channel did not become a function. */
export interface NotDrafted {
  readonly why: string;
}

/** A number as short as it can be written and still mean the same to `same`. */
export const shortest = (value: number, same: (shorter: number) => boolean): number => {
  for (let digits = 0; digits < 12; digits++) {
    const shorter = Number(value.toFixed(digits));
    if (same(shorter)) return shorter;
  }
  return value;
};

/** Numbers of a chart: six digits are more than any maker means. */
export const rounded = (value: number): number => Number(value.toPrecision(6));
