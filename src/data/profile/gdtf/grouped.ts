/** Things by a key of theirs, in the order in which they came. */
export const grouped = <T, K>(things: Iterable<T>, keyOf: (thing: T) => K): ReadonlyMap<K, readonly T[]> => {
  const groups = new Map<K, T[]>();
  for (const thing of things) {
    const key = keyOf(thing);
    const group = groups.get(key);
    if (group) group.push(thing);
    else groups.set(key, [thing]);
  }
  return groups;
};
