import type { TextPlace } from "./problem.ts";

/** From a stretch of a text to where it lies: its line, and what of the stretch is on that line, at least one character. */
export const placesIn = (text: string): ((start: number, end: number) => TextPlace) => {
  const starts = lineStarts(text);
  return (start, end) => {
    const at = Math.max(0, Math.min(start, text.length));
    const line = lineOf(starts, at);
    const begin = starts[line - 1] ?? 0;
    const whole = text.slice(begin, (starts[line] ?? text.length + 1) - 1).replace(/\r$/, "");
    const column = Math.min(at - begin, whole.length) + 1;
    return { line, column, text: whole, length: Math.max(1, Math.min(end - at, whole.length - column + 1)) };
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
