/** The keys of a closed record, in the order in which they stand there. Only for records that nobody adds to. */
export const keysOf = <Key extends string>(record: Readonly<Record<Key, unknown>>): readonly Key[] =>
  Object.keys(record) as Key[];
