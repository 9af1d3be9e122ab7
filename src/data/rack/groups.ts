import type { GroupSize, RackFixture } from "./rack.ts";

/**
 * Fixtures that are watched together, as indices in the rack from 0: kind by kind, shelf by shelf, no more than the size
 * allows. None is alone where that can be helped: the odd one shows beside others of its kind. What is left of one kind is
 * watched with what is left of another where both together are not too many: each then plays its own steps.
 */
export const groupsOf = (fixtures: readonly RackFixture[], size: GroupSize): readonly (readonly number[])[] =>
  leftoversTogether(
    kindsIn(fixtures, [...fixtures.keys()]).flatMap((kind) =>
      filledUp(
        togetherBy(kind, (index) => fixtures[index]?.place.shelf).flatMap((shelf) => inLooks(shelf, size)),
        size.usual,
      ),
    ),
    size.usual,
  );

/** Cuts a list into parts of the usual size, or a few more each, evenly, where that makes one part less. */
export const inLooks = <T>(all: readonly T[], { usual, most }: GroupSize): readonly (readonly T[])[] => {
  const parts = Math.ceil(all.length / most);
  return inParts(all, parts < Math.ceil(all.length / usual) ? Math.ceil(all.length / parts) : usual);
};

/**
 * Sorts members of a rack by kind and mode. `members`, and each group that is returned, are indices in `fixtures` from 0.
 */
export const kindsIn = (fixtures: readonly RackFixture[], members: readonly number[]): readonly (readonly number[])[] =>
  togetherBy(members, (index) => fixtures[index]?.profile.name);

/** The largest first, each joined by the largest that still fits; groups come in the order of their first fixtures. */
const leftoversTogether = (groups: readonly (readonly number[])[], most: number): readonly (readonly number[])[] => {
  const waiting = groups.toSorted((a, b) => b.length - a.length);
  const joined: (readonly number[])[] = [];
  for (let next = waiting.shift(); next; next = waiting.shift()) {
    let group = next;
    for (let n = 0; n < waiting.length; ) {
      const other = waiting[n] ?? [];
      if (group.length + other.length > most) n += 1;
      else {
        group = [...group, ...other];
        waiting.splice(n, 1);
      }
    }
    joined.push(group);
  }
  return joined.toSorted((a, b) => Math.min(...a) - Math.min(...b));
};

/**
 * Cuts a list, in its order, into parts of at most `most`, a whole number from 1. A last one that would be alone gets
 * one of the part before it for company.
 */
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
