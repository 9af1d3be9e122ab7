import fc from "fast-check";
import { expect, test, vi } from "vitest";
import { z } from "zod";
import { checkShape, readDataFile } from "../../../src/domain/problem/document.ts";
import { tellProblems } from "../../../src/domain/problem/problem.ts";

const schema = z.strictObject({ name: z.string(), size: z.int().min(1).max(9), kind: z.enum(["spot", "wash"]) });

const mistakesIn = (text: string): string => {
  const file = readDataFile("lamp.yaml", text);
  if (!file.ok) return tellProblems(file.problems);
  const checked = checkShape(file.value, schema);
  return checked.ok ? "" : tellProblems(checked.problems);
};

test("every mistake is told at once, first in the file first, underlined, with what would be right", () => {
  expect(mistakesIn("name: 7\nsize: 12\nkind: wahs\ncolour: red\n")).toBe(
    [
      "lamp.yaml:1:7: must be text (put it in quotes)",
      "  name: 7",
      "        ^",
      "",
      "lamp.yaml:2:7: it must be at most 9",
      "  size: 12",
      "        ^^",
      "",
      'lamp.yaml:3:7: not one of the known words (did you mean "wash"?)',
      "  kind: wahs",
      "        ^^^^",
      "",
      'lamp.yaml:4:1: "colour" does not belong here (known: name, size, kind)',
      "  colour: red",
      "  ^^^^^^",
    ].join("\n"),
  );
});

test.each([
  {
    text: "name: a\nname: b\nsize: 1\nkind: spot\n",
    says: "unique",
    because: "the second of two equal keys would win silently",
  },
  { text: "name: [a\n", says: "lamp.yaml:", because: "an open bracket has a place" },
  { text: "\tname: a\n", says: "lamp.yaml:1", because: "a tab cannot indent YAML" },
  { text: "name: a\nkind: spot\n", says: '"size" is missing', because: "a missing key is named" },
  { text: "", says: "must be a group of keys", because: "an empty file is no group of keys" },
  { text: "- 1\n- 2\n", says: "must be a group of keys", because: "a list is no group of keys" },
])("$because", ({ text, says }) => {
  expect(mistakesIn(text)).toContain(says);
});

test.each([
  {
    text: "name: a\nsize: *one\n",
    says: "lamp.yaml:2:7: Unresolved alias",
    because: "an alias that leads nowhere has a place",
  },
  {
    text: `name: &a x\nsize: [${"*a, ".repeat(60)}]\n`,
    says: "lamp.yaml:2:8: Excessive alias",
    because: "so has the first of too many",
  },
  { text: "#".repeat(200_001), says: "lamp.yaml:1:1: longer than 200000", because: "people write these files" },
])("$because", ({ text, says }) => {
  expect(mistakesIn(text)).toContain(says);
});

test("of very many mistakes the first two hundred are told", () => {
  const problems = readDataFile("lamp.yaml", "  : ] [\n".repeat(1000));
  expect(problems.ok ? 0 : problems.problems.length).toBe(200);
});

test("reading says nothing to the terminal by itself", () => {
  const warned = vi.spyOn(process, "emitWarning").mockImplementation(() => {});
  mistakesIn("? [a, b]\n: 1\n");
  expect(warned).not.toHaveBeenCalled();
  warned.mockRestore();
});

test("of a line too long to read, what stands around the mistake is shown", () => {
  const told = mistakesIn(`name: a\nsize: 1\nkind: ${" ".repeat(500)}wahs ${" ".repeat(500)}# end\n`).split("\n");
  expect(told[1]).toBe(`  ...${" ".repeat(120)}wahs${" ".repeat(120)}...`);
  expect(told[2]).toBe(`  ${" ".repeat(123)}^^^^`);
});

test("a file that unfolds its aliases without end is refused", () => {
  const bomb = ["a: &a [x, x, x, x, x, x, x, x, x]"];
  for (const [name, before] of [
    ["b", "a"],
    ["c", "b"],
    ["d", "c"],
    ["e", "d"],
    ["f", "e"],
    ["g", "f"],
    ["h", "g"],
  ])
    bomb.push(`${name}: &${name} [${Array(9).fill(`*${before}`).join(", ")}]`);
  expect(mistakesIn(bomb.join("\n"))).toMatch(/alias/i);
});

test("no text at all can make reading throw, and every place lies inside the file", () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.string({ unit: "grapheme" }),
        fc.constantFrom("a: &a *a", "? ", "%YAML 9", "--- |\n", "{", "a: !!x 1", "\uFEFFa: 1"),
      ),
      (text) => {
        const file = readDataFile("any.yaml", text);
        const problems = file.ok ? [] : file.problems;
        const lines = text.split(/\r?\n/).length;
        for (const { place } of problems) if (place) expect(place.line).toBeLessThanOrEqual(lines + 1);
      },
    ),
    { numRuns: 500 },
  );
});
