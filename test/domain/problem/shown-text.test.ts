import fc from "fast-check";
import { expect, test } from "vitest";
import { safeText } from "../../../src/domain/problem/shown-text.ts";

test.each([
  { text: "\u001b[2J", shown: "\\u001b[2J", because: "an escape sequence must not clear the screen" },
  { text: "a\nb", shown: "a\\nb", because: "a serial number is one line" },
  { text: "\u009b31m", shown: "\\u009b31m", because: "C1 controls start sequences too" },
  { text: "abc\u202edef", shown: "abc\\u202edef", because: "a bidirectional override would reorder the line" },
  { text: "\ud800", shown: "\\ud800", because: "half a character is no character" },
  { text: "größe 中文 ♪", shown: "größe 中文 ♪", because: "people write in their own language" },
])("$because", ({ text, shown }) => {
  expect(safeText(text)).toBe(shown);
});

test("whatever goes in, no control character comes out, and doing it twice changes nothing", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (text) => {
      expect(safeText(text)).not.toMatch(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/u);
      expect(safeText(safeText(text))).toBe(safeText(text));
    }),
  );
});
