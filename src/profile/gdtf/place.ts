import type { Place } from "../../problem/problem.ts";

/** From an index of a text to where that lies; the mistake covers the tag that begins there, or one character. */
export const placesIn = (text: string): ((index: number) => Place) => {
  const starts = lineStarts(text);
  return (index) => {
    const at = Math.max(0, Math.min(index, text.length - 1));
    const line = lineOf(starts, at);
    const start = starts[line - 1] ?? 0;
    const whole = text.slice(start, (starts[line] ?? text.length + 1) - 1).replace(/\r$/, "");
    const column = Math.max(1, Math.min(at - start + 1, whole.length));
    const tag = text[at] === "<" ? text.indexOf(">", at) + 1 - at : 1;
    return { line, column, text: whole, length: Math.max(1, Math.min(tag, whole.length - column + 1)) };
  };
};

const lineStarts = (text: string): readonly number[] => {
  const starts = [0];
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  return starts;
};

/** The last line that begins at or before the index, counted from 1. */
const lineOf = (starts: readonly number[], at: number): number => {
  let [low, high] = [0, starts.length];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if ((starts[middle] ?? 0) <= at) low = middle;
    else high = middle;
  }
  return low + 1;
};
