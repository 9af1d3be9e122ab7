/** The keys of a closed record, in the order in which they stand there. Only for records that nobody adds to. */
export const keysOf = <Key extends string>(record: Readonly<Record<Key, unknown>>): readonly Key[] =>
  Object.keys(record) as Key[];

/** The keys of a record with what stands under each, in the order in which they stand there. */
export const entriesOf = <Key extends string, Value>(
  record: Readonly<Partial<Record<Key, Value>>>,
): readonly (readonly [Key, Value])[] => Object.entries(record) as [Key, Value][];

/** A record made of every key of a closed list. */
export const recordFrom = <Key extends string, Value>(
  entries: readonly (readonly [Key, Value])[],
): Readonly<Record<Key, Value>> => Object.fromEntries(entries) as Record<Key, Value>;

/** Things by a key of theirs: keys in the order in which the first of each came, and under each its things in their order. */
export const groupsBy = <T, Key>(
  things: Iterable<T>,
  keyOf: (thing: T) => Key,
): ReadonlyMap<Key, readonly [T, ...T[]]> => {
  const groups = new Map<Key, [T, ...T[]]>();
  for (const thing of things) {
    const key = keyOf(thing);
    const group = groups.get(key);
    if (group) group.push(thing);
    else groups.set(key, [thing]);
  }
  return groups;
};

/** What has the same key together, in the order in which the first of each came. */
export const grouped = <T>(things: Iterable<T>, keyOf: (thing: T) => string): readonly (readonly [T, ...T[]])[] => [
  ...groupsBy(things, keyOf).values(),
];
