/** Collects what comes while a write is under way, so that a burst costs one write to the disk. */
export interface Groups<T> {
  /** Settles with the write that carried the item. */
  add(item: T): Promise<void>;
  /** Resolves when nothing is under way, however the writes ended. */
  rest(): Promise<void>;
}

export const inGroups = <T>(write: (group: readonly T[]) => Promise<void>): Groups<T> => {
  let group: T[] = [];
  let next: Promise<void> | undefined;
  let settled = Promise.resolve();
  const send = () => {
    const sent = group;
    group = [];
    next = undefined;
    return write(sent);
  };
  return {
    add: (item) => {
      group.push(item);
      if (next) return next;
      next = settled.then(send);
      settled = next.catch(() => undefined);
      return next;
    },
    rest: () => settled,
  };
};
