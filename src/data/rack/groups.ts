import type { RackFixture } from "./rack.ts";

/**
 * Fixtures that are watched together, as places in the rack from 0: one kind and mode to a group, shelf by shelf, at most so
 * many. None is alone where that can be helped: the odd one shows beside others.
 */
export const groupsOf = (fixtures: readonly RackFixture[], most: number): readonly (readonly number[])[] =>
  togetherBy([...fixtures.keys()], (index) => fixtures[index]?.profile.name).flatMap((kind) =>
    filledUp(
      togetherBy(kind, (index) => fixtures[index]?.place.shelf).flatMap((shelf) => inParts(shelf, most)),
      most,
    ),
  );

/** In their order, as many to a part as may be; a last one that would be alone has one of the part before it for company. */
export const inParts = <T>(all: readonly T[], most: number): readonly (readonly T[])[] => {
  const parts = Math.ceil(all.length / most);
  const company = most > 2 && parts > 1 && all.length % most === 1 ? 1 : 0;
  const start = (part: number) => part * most - (part === parts - 1 ? company : 0);
  return Array.from({ length: parts }, (_, part) =>
    all.slice(start(part), part === parts - 1 ? all.length : start(part + 1)),
  );
};

/** Those with the same key together, in the order in which keys and members first come. */
const togetherBy = <T>(all: readonly T[], key: (one: T) => unknown): readonly (readonly T[])[] =>
  [...new Set(all.map(key))].map((wanted) => all.filter((one) => key(one) === wanted));

/** What is left of one shelf goes with what is left of the next where both together are not too many. */
const filledUp = (parts: readonly (readonly number[])[], most: number): readonly (readonly number[])[] => {
  const groups: (readonly number[])[] = [];
  for (const part of parts) {
    const last = groups.at(-1);
    if (last && last.length + part.length <= most) groups[groups.length - 1] = [...last, ...part];
    else groups.push(part);
  }
  return groups;
};
