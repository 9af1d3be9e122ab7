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
