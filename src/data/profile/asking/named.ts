import { hintFor } from "../../../domain/problem/problem.ts";
import { FUNCTION_IDS, type FunctionId, functionWords } from "../../../domain/trade/functions.ts";

/**
 * The function that is called so, as a GDTF attribute or in the words of the trade, in any case; undefined where none is.
 */
export const functionNamed = (text: string): FunctionId | undefined => {
  const wanted = text.toLowerCase();
  return FUNCTION_IDS.find((id) => id.toLowerCase() === wanted || functionWords(id).toLowerCase() === wanted);
};

/** Says which functions may be meant by a word that names none. */
export const functionHint = (text: string): string => {
  const words = FUNCTION_IDS.map(functionWords);
  const containing = words.filter((one) => one.includes(text.toLowerCase()));
  return containing.length > 0
    ? containing.join(", ")
    : (hintFor(text, [...words, ...FUNCTION_IDS]) ??
        'the chart calls it something else: "other", or "list" for all that Limber knows');
};
