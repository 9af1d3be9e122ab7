import fc from "fast-check";
import { expect, test } from "vitest";
import { identityKey, isSameName, lookOf, nameTrouble, writtenName } from "../../../src/domain/problem/identity.ts";

const MIXED = "mixes letters of several alphabets that look alike";
const HIDDEN = "has a character in it that nobody can see";

/** The strings of Unicode TS #39, 5.1 (from memory), and what became of fixtures and people in a journal. */
test.each<{ name: string; trouble: string | undefined; because: string }>([
  { name: "Circle", trouble: undefined, because: "Latin alone" },
  { name: "\u0421\u0456\u0433\u0441\u04c0\u0435", trouble: undefined, because: "Cyrillic alone" },
  { name: "\u0421ir\u0441l\u0435", trouble: MIXED, because: "Latin and Cyrillic" },
  { name: "Circ1e", trouble: undefined, because: "digits belong to every script" },
  {
    name: "\u{1d5a2}\u{1d5c2}\u{1d5cb}\u{1d5bc}\u{1d5c5}\u{1d5be}",
    trouble: undefined,
    because: "NFKC makes it Latin",
  },
  { name: "\u3006\u5207", trouble: undefined, because: "Japanese" },
  { name: "\u306d\u30ac", trouble: undefined, because: "Hiragana and Katakana are written together" },
  { name: "A-17 \u7532", trouble: undefined, because: "Latin beside Japanese is highly restrictive still (5.2)" },
  { name: "A\u200b-17", trouble: HIDDEN, because: "a zero-width space" },
  { name: "A-17\u202e", trouble: HIDDEN, because: "turns what follows round" },
  { name: "A\u00ad17", trouble: HIDDEN, because: "a soft hyphen" },
  { name: "A\u001b17", trouble: HIDDEN, because: "a control" },
  { name: "A\n17", trouble: "has a tab or a line break in it", because: "a label has one line for it" },
  { name: "\u0410-17B", trouble: MIXED, because: "a Cyrillic A before a Latin B" },
  { name: "  A-17 ", trouble: undefined, because: "blanks at the ends are dropped" },
])("$name: $because", ({ name, trouble }) => {
  expect(nameTrouble(name)).toBe(trouble);
});

test.each([
  ["A-17", " a-17 ", "case and blanks"],
  ["KM", "\uff2b\uff2d", "full width"],
  ["A-17", "A\u200b-17", "what cannot be seen, in an old journal"],
  ["STRASSE 4", "stra\u00dfe  4", "full case folding"],
  ["\ufb01x", "FIX", "ligatures"],
])("%s and %s are one name: %s", (a, b) => {
  expect(isSameName(a, b)).toBe(true);
});

test("what looks alike is not the same name, but is found as the nearest", () => {
  expect(isSameName("A-10", "A-1O")).toBe(false);
  expect(lookOf("A-1O")).toBe(lookOf("A-10"));
  expect(lookOf("\u0410-17")).toBe(lookOf("a17"));
});

test("a key and a written name are stable: doing it again changes nothing, and writing changes no key", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (name) => {
      expect(identityKey(identityKey(name))).toBe(identityKey(name));
      expect(writtenName(writtenName(name))).toBe(writtenName(name));
      expect(identityKey(writtenName(name))).toBe(identityKey(name));
    }),
    { numRuns: 2000 },
  );
});
