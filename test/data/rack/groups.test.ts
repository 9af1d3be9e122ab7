import fc from "fast-check";
import { expect, test } from "vitest";
import { groupsOf, inLooks, inParts } from "../../../src/data/rack/groups.ts";
import type { RackFixture } from "../../../src/data/rack/rack.ts";
import { shippedProfile, shippedRack } from "../../kit/shipped.ts";

const SPOT = shippedProfile("spot-16bit");
const fixture = (kind: string, shelf: string, index: number): RackFixture => ({
  serial: `${kind}-${index}`,
  profile: { ...SPOT, name: kind },
  place: { shelf, position: `${index}` },
  start: undefined,
  ganged: false,
  uid: undefined,
  branch: undefined,
  circuit: undefined,
});
/** "s top 4" is four spots on the top shelf. */
const rack = (...words: readonly string[]): readonly RackFixture[] =>
  words.flatMap((part) => {
    const [kind = "", shelf = "", count = ""] = part.split(" ");
    return Array.from({ length: Number(count) }, (_, index) => fixture(kind, shelf, index));
  });
const sizes = (fixtures: readonly RackFixture[], most: number) =>
  groupsOf(fixtures, { usual: most, most }).map(({ length }) => length);

test.each([
  { words: ["spot top 12"], most: 6, groups: [6, 6], because: "a long shelf is divided" },
  { words: ["spot top 8"], most: 6, groups: [6, 2], because: "as many as can be watched: fewer looks" },
  {
    words: ["spot top 7"],
    most: 6,
    groups: [5, 2],
    because: "but nobody alone: there would be nothing to compare with",
  },
  { words: ["spot top 4", "spot low 4"], most: 6, groups: [4, 4], because: "a shelf stays together" },
  { words: ["spot top 3", "spot low 3"], most: 6, groups: [6], because: "two short shelves are one look" },
  {
    words: ["spot top 4", "wash top 4"],
    most: 6,
    groups: [4, 4],
    because: "two kinds that are too many together stay apart",
  },
  {
    words: ["spot top 2", "wash top 1", "spot top 2"],
    most: 6,
    groups: [5],
    because: "what is left of two kinds is one look, each kind together in it",
  },
  {
    words: ["spot top 8", "wash top 8", "beam top 8"],
    most: 6,
    groups: [6, 6, 6, 6],
    because: "three kinds with two left of each are four looks, not six",
  },
  { words: ["spot top 7"], most: 3, groups: [3, 2, 2], because: "nobody alone among few either" },
])("$words in groups of at most $most: $because", ({ words, most, groups }) => {
  expect(sizes(rack(...words), most)).toEqual(groups);
});

test.each([
  { count: 8, parts: [8], because: "one look instead of six and a look for two" },
  { count: 7, parts: [7], because: "the same" },
  { count: 12, parts: [6, 6], because: "larger groups would still be two" },
  { count: 9, parts: [6, 3], because: "the same" },
  { count: 16, parts: [8, 8], because: "two looks instead of three" },
  { count: 24, parts: [8, 8, 8], because: "three looks instead of four" },
  { count: 6, parts: [6], because: "as many as are usual" },
])("$count of a kind, usually six and eight at most: $parts, $because", ({ count, parts }) => {
  const all = Array.from({ length: count }, (_, index) => index);
  expect(inLooks(all, { usual: 6, most: 8 }).map(({ length }) => length)).toEqual(parts);
});

test("larger groups come only where they save a look, and are as even as can be", () => {
  fc.assert(
    fc.property(fc.nat(60), fc.integer({ min: 2, max: 8 }), fc.nat(4), (count, usual, more) => {
      const all = Array.from({ length: count }, (_, index) => index);
      const [looks, parts] = [inLooks(all, { usual, most: usual + more }), inParts(all, usual)];
      const lengths = looks.map(({ length }) => length);
      expect(looks.flat()).toEqual(all);
      expect(Math.max(0, ...lengths)).toBeLessThanOrEqual(looks.length < parts.length ? usual + more : usual);
      expect(looks.length).toBeLessThanOrEqual(parts.length);
    }),
  );
});

test("the shipped rack is watched shelf by shelf", () => {
  expect(groupsOf(shippedRack("demo").fixtures, shippedRack("demo").groupSizes.broad)).toEqual([
    [0, 1, 2, 3],
    [4, 5, 6, 7],
    [8, 9, 10, 11],
  ]);
});

const anyRack = fc
  .array(fc.tuple(fc.constantFrom("spot", "wash", "beam"), fc.constantFrom("top", "mid", "low")), { maxLength: 60 })
  .map((all) => all.map(([kind, shelf], index) => fixture(kind, shelf, index)));
const anySize = fc.integer({ min: 1, max: 12 });

test("every fixture is in one group, none is too large, a kind stands together in it, and no two could have been one", () => {
  fc.assert(
    fc.property(anyRack, anySize, (fixtures, most) => {
      const groups = groupsOf(fixtures, { usual: most, most });
      expect(groups.flat().toSorted((a, b) => a - b)).toEqual([...fixtures.keys()]);
      for (const group of groups) {
        expect(group.length).toBeLessThanOrEqual(most);
        const kinds = group.map((index) => fixtures[index]?.profile.name);
        expect(kinds.filter((kind, n) => kind !== kinds[n - 1])).toHaveLength(new Set(kinds).size);
      }
      const [least = most, second = most] = groups.map(({ length }) => length).toSorted((a, b) => a - b);
      expect(groups.length < 2 || least + second > most).toBe(true);
    }),
  );
});

test("parts are as few as can be, and nobody is alone who could have company", () => {
  fc.assert(
    fc.property(fc.array(fc.nat(), { maxLength: 50 }), anySize, (all, most) => {
      const parts = inParts(all, most);
      expect(parts.flat()).toEqual(all);
      expect(parts).toHaveLength(Math.ceil(all.length / most));
      for (const { length } of parts) {
        expect(length).toBeLessThanOrEqual(most);
        if (all.length > 1 && most > 2) expect(length).toBeGreaterThan(1);
      }
    }),
  );
});
