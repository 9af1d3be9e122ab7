import { readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { levelsMessage, parametersRequest, serialNumberRequest } from "../../src/wire/messages.ts";
import { lineDecoder } from "../kit/line-decoder.ts";

const universe = fc.uint8Array({ minLength: 24, maxLength: 512 });

test("a full universe is 518 bytes and starts 7E 06 01 02 00", () => {
  // Worked from the published form: start code and 512 slots are 513 = 0x0201 bytes.
  const bytes = levelsMessage(new Uint8Array(512));
  expect(bytes.length).toBe(518);
  expect([...bytes.subarray(0, 5)]).toEqual([0x7e, 0x06, 0x01, 0x02, 0x00]);
});

test("the second opinion reads every universe as it was written", () => {
  fc.assert(
    fc.property(universe, (levels) => {
      const reader = lineDecoder();
      reader.take(levelsMessage(levels));
      expect(reader.packets).toEqual([[...levels]]);
      expect(reader.strays).toBe(0);
    }),
  );
});

test("the second opinion shares no code with what it judges", () => {
  expect(readFileSync("test/kit/line-decoder.ts", "utf8")).not.toMatch(/^\s*import|\bimport\(|^\s*export .* from/m);
});

test.each([0, 23, 513])("%i slots do not fit in a message", (slots) => {
  expect(() => levelsMessage(new Uint8Array(slots))).toThrow("Bug");
});

test.each([
  { because: "label 3 with a wanted size of 0", bytes: parametersRequest(), text: "7e0302000000e7" },
  { because: "label 10 is empty", bytes: serialNumberRequest(), text: "7e0a0000e7" },
])("a request is $because", ({ bytes, text }) => {
  expect(Buffer.from(bytes).toString("hex")).toBe(text);
});
