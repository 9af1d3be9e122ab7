import { closest, distance } from "fastest-levenshtein";

/** "Did you mean ..." for a name that is not there; nothing when no known name is close enough to be worth saying. */
export const nearest = (name: string, known: readonly string[]): string | undefined => {
  if (known.length === 0) return undefined;
  const guess = closest(
    name.toLowerCase(),
    known.map((one) => one.toLowerCase()),
  );
  const original = known.find((one) => one.toLowerCase() === guess);
  return original !== undefined && distance(name.toLowerCase(), guess) <= Math.max(2, name.length / 3)
    ? original
    : undefined;
};

/**
 * The hint for an unknown name: the nearest known one, or all of them where there are at most twelve; undefined where no
 * name is near and the list is too long to be told.
 */
export const hintFor = (name: string, known: readonly string[]): string | undefined => {
  const guess = nearest(name, known);
  if (guess !== undefined) return `did you mean "${guess}"?`;
  return known.length > 0 && known.length <= 12 ? `known: ${known.join(", ")}` : undefined;
};
