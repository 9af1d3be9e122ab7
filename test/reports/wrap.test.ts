import fc from "fast-check";
import { expect, test } from "vitest";
import { cut, fittedText, hanging, padded, widthOf, wrapped } from "../../src/reports/wrap.ts";

/** Columns by Unicode's own tables (UAX #11, East Asian Width; UTS #51 for emoji), from memory of these standards. */
test.each([
  { text: "A-17", columns: 4, because: "Latin letters take one each" },
  { text: "灯光-七", columns: 7, because: "wide characters take two" },
  { text: "e\u0301", columns: 1, because: "a combining mark takes none" },
  { text: "👩‍🔧", columns: 2, because: "several code points are one picture, two wide" },
])("$text takes $columns columns: $because", ({ text, columns }) => {
  expect(widthOf(text)).toBe(columns);
});

const ANY = fc.string({ unit: fc.constantFrom("a", "b", " ", "灯", "e\u0301", "👩‍🔧", "-"), maxLength: 60 });

test("what is cut fits, begins as the text did, and no character is cut in two", () => {
  fc.assert(
    fc.property(ANY, fc.integer({ min: 4, max: 40 }), (text, columns) => {
      const short = cut(text, columns);
      expect(widthOf(short)).toBeLessThanOrEqual(columns);
      expect(text.startsWith(short.replace(/\.\.\.$/, ""))).toBe(true);
      const pieces = (of: string) => [...new Intl.Segmenter().segment(of)].map(({ segment }) => segment);
      expect(pieces(text)).toEqual(expect.arrayContaining(pieces(short.replace(/\.\.\.$/, ""))));
    }),
  );
});

test("what is padded ends in one column for every row of a table", () => {
  fc.assert(
    fc.property(ANY, (text) => {
      expect(widthOf(padded(cut(text, 20), 20))).toBe(20);
    }),
  );
});

test("wrapping breaks at blanks only and loses no word", () => {
  fc.assert(
    fc.property(fc.array(fc.stringMatching(/^[a-z灯]{1,12}$/u), { minLength: 1 }), (words) => {
      const lines = wrapped(words.join(" "), 24);
      expect(lines.join(" ").split(" ")).toEqual(words);
      for (const line of lines) expect(widthOf(line)).toBeLessThanOrEqual(24);
    }),
  );
});

test("a long line on a terminal is broken between words, and what follows begins under it", () => {
  expect(fittedText("  one two three four\nshort", 12)).toBe("  one two\n  three four\nshort");
  expect(hanging("- ", "one two three", 9)).toEqual(["- one two", "  three"]);
});
