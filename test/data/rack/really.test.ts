import fc from "fast-check";
import { expect, test } from "vitest";
import { type MovedAnswer, reallySet, wrongInFile } from "../../../src/data/rack/addresses.ts";
import { shippedRack } from "../../kit/shipped.ts";

const RACK = shippedRack("demo");
const [A, B, C] = ["SP-101", "SP-102", "SP-103"] as const;
const answers = (...list: readonly (readonly [asked: string, ...moved: string[]])[]): readonly MovedAnswer[] =>
  list.map(([asked, ...moved]) => ({ asked, moved }));
const slots = (given: readonly MovedAnswer[]) =>
  reallySet(RACK, given)
    .fixtures.slice(0, 3)
    .map(({ start }) => start?.slot);

test("as the file has it: each moves when it is asked", () => {
  expect(slots(answers([A, A], [B, B], [C, C]))).toEqual([1, 31, 61]);
});

test("two that stand in each other's place have each other's address", () => {
  const swapped = answers([A, B], [B, A]);
  expect(slots(swapped)).toEqual([31, 1, 61]);
  expect(reallySet(RACK, swapped).open).toEqual([]);
  expect(wrongInFile(RACK, reallySet(RACK, swapped))).toEqual([
    "SP-101 (top, 1st from the left) is set to universe 1, address 31; the file says universe 1, address 1.",
    "SP-102 (top, 2nd from the left) is set to universe 1, address 1; the file says universe 1, address 31.",
  ]);
});

test("two that would end at one address are named: the one that was not asked keeps what the file says", () => {
  expect(reallySet(RACK, answers([A, B])).clashes).toEqual([
    "SP-101 (top, 1st from the left) and SP-102 (top, 2nd from the left) would both listen at universe 1, address 1.",
  ]);
  expect(reallySet(RACK, answers([A, B], [B, A])).clashes).toEqual([]);
});

test.each([
  {
    given: answers([A, A], [B]),
    open: ["SP-102 (top, 2nd from the left) moved at no address: is it on, in its mode, and does data reach it?"],
    because: "nothing moved",
  },
  {
    given: answers([A, A, B], [B]),
    open: [
      "SP-101 (top, 1st from the left) and SP-102 (top, 2nd from the left) move together at universe 1, address 1: set all but one of them anew.",
    ],
    because: "two are set to the same address",
  },
  {
    given: answers([A, A], [B, A]),
    open: [
      "SP-101 (top, 1st from the left) moves at universe 1, address 1 and at universe 1, address 31: read its panel.",
      "SP-102 (top, 2nd from the left) moved at no address: is it on, in its mode, and does data reach it?",
    ],
    because: "no fixture has two addresses",
  },
  {
    given: answers([A, "BM-101"]),
    open: [
      "SP-101 (top, 1st from the left) moved at no address: is it on, in its mode, and does data reach it?",
      "BM-101 (middle, 1st from the left) moves at universe 1, address 1, where another kind stands: read its panel.",
    ],
    because: "another kind hears some slot in the middle of it",
  },
])("what stays open is said: $because", ({ given, open }) => {
  expect(reallySet(RACK, given).open).toEqual(open);
});

test("fixtures that share an address on purpose may move together", () => {
  const ganged = { ...RACK, fixtures: RACK.fixtures.map((one) => ({ ...one, ganged: true })) };
  expect(reallySet(ganged, answers([A, A, B])).open).toEqual([]);
});

test("however the panels of a kind were mixed up, asking each once finds it out", () => {
  const spots = RACK.fixtures.slice(0, 4).map(({ serial }) => serial);
  fc.assert(
    fc.property(fc.shuffledSubarray(spots, { minLength: 4 }), (order) => {
      const really = reallySet(
        RACK,
        spots.map((asked, index) => ({ asked, moved: [order[index] ?? ""] })),
      );
      expect(really.open).toEqual([]);
      for (const [index, serial] of order.entries())
        expect(really.fixtures.find((one) => one.serial === serial)?.start).toEqual(RACK.fixtures[index]?.start);
    }),
  );
});
