import { RESULTS } from "../domain/trade/results.ts";
import type { Compared } from "./before-after.ts";

/** One movement before and after in words: "pan: full sweep: fail, then pass". */
export const comparedInWords = ({ words, before, after, passes }: Compared): string =>
  `${words}: ${RESULTS[before]}, then ${RESULTS[after]}${passes === "" ? "" : `; ${passes}`}`;

/** The movements that are worth a line: not those that were good before, and still are or were not played again. */
export const worthTelling = (compared: readonly Compared[]): readonly Compared[] =>
  compared.filter(
    ({ became, before }) => became !== "good as before" && !(became === "not tested" && before === "pass"),
  );

/** How many movements need no line, in words: "10 good as before", "31 good before and not played again". */
export const countsInWords = (compared: readonly Compared[]): readonly string[] => {
  const good = compared.filter(({ became }) => became === "good as before").length;
  const left = compared.filter(({ became, before }) => became === "not tested" && before === "pass").length;
  return [
    ...(good > 0 ? [`${good} good as before`] : []),
    ...(left > 0 ? [`${left} good before and not played again`] : []),
  ];
};
