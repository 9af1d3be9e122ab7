import fc from "fast-check";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { type Edit, editedText } from "../../../src/data/rack/write.ts";

const TEXT = `rack: mine   # ours
fixtures:
  # the old ones
  - { serial: A-1,  universe: 1, address: 1 }   # dented
  - serial: A-2      # belongs to the theatre
    place: in the case   # take it out first

  - { serial: A-3 }
# the end
`;

test("only the new values change: comments, columns and empty lines stay", () => {
  const edits: readonly Edit[] = [
    { entry: 0, key: "address", value: 31 },
    { entry: 1, key: "universe", value: 1 },
    { entry: 1, key: "address", value: 61 },
    { entry: 2, key: "address", value: 91 },
  ];
  expect(editedText(TEXT, edits)).toBe(`rack: mine   # ours
fixtures:
  # the old ones
  - { serial: A-1,  universe: 1, address: 31 }   # dented
  - serial: A-2      # belongs to the theatre
    place: in the case   # take it out first
    universe: 1
    address: 61

  - { serial: A-3, address: 91 }
# the end
`);
});

test("a file that ends without a line break is mended at its end too", () => {
  expect(editedText("fixtures:\n  - serial: A-1", [{ entry: 0, key: "address", value: 1 }])).toBe(
    "fixtures:\n  - serial: A-1\n    address: 1",
  );
});

test("whatever a person calls a place, it is read back as it was written", () => {
  const odd = fc.constantFrom("true", "Null", "3", "1e3", "top, left", "a: b", "# one", "~", "left }", " left", "-");
  const words = fc.oneof(odd, fc.string({ minLength: 1, maxLength: 30, unit: "grapheme" }));
  fc.assert(
    fc.property(words, fc.nat(2), (value, entry) => {
      const text = editedText(TEXT, [{ entry, key: "place", value }]);
      expect((parse(text) as { fixtures: { place?: string }[] }).fixtures[entry]?.place).toBe(value);
    }),
  );
});
