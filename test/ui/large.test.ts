import fc from "fast-check";
import { expect, test } from "vitest";
import { FUNCTION_IDS, functionWords } from "../../src/domain/trade/functions.ts";
import { largeLetters } from "../../src/ui/large.ts";

test("five rows high where they fit", () => {
  expect(largeLetters("Pan 5", 76, 5)).toEqual([
    "████   ███  █   █       █████",
    "█   █ █   █ ██  █       █",
    "████  █████ █ █ █       ████",
    "█     █   █ █  ██           █",
    "█     █   █ █   █       ████",
  ]);
});

test("flat, two dots in a character, where only three rows are left", () => {
  expect(largeLetters("Pan", 76, 3)).toEqual(["█▀▀▀▄ ▄▀▀▀▄ █▄  █", "█▀▀▀  █▀▀▀█ █ ▀▄█", "▀     ▀   ▀ ▀   ▀"]);
});

test("twice as large on a terminal that has the room", () => {
  const rows = largeLetters("Pan", 160, 11) ?? [];
  expect(rows.length).toBe(10);
  expect(rows[0]).toBe("████████      ██████    ██      ██");
});

test("words too long for any size are left to ordinary letters", () => {
  expect(largeLetters("extraordinarily", 76, 11)).toBeUndefined();
});

test("every function can be read from three metres on the smallest terminal", () => {
  for (const id of FUNCTION_IDS) expect(largeLetters(functionWords(id), 76, 11), id).toBeDefined();
});

test("never more rows or columns than there are", () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 30 }), fc.nat({ max: 200 }), fc.nat({ max: 30 }), (words, columns, rows) => {
      const drawn = largeLetters(words, columns, rows);
      expect(drawn?.length ?? 0).toBeLessThanOrEqual(rows);
      for (const row of drawn ?? []) expect(row.length).toBeLessThanOrEqual(columns);
    }),
  );
});
