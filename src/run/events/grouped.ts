/** Groups what has the same key, in the order in which the first of each came. */
export const grouped = <T>(all: readonly T[], keyOf: (one: T) => string): readonly (readonly [T, ...T[]])[] => {
  const groups = new Map<string, [T, ...T[]]>();
  for (const one of all) {
    const group = groups.get(keyOf(one));
    if (group) group.push(one);
    else groups.set(keyOf(one), [one]);
  }
  return [...groups.values()];
};
