import fc from "fast-check";
import { expect, test } from "vitest";
import { highest, onBytes, parseDmxValue } from "../../../../src/data/profile/gdtf/dmx-value.ts";

const value = (text: string, bytes: number): number | undefined => {
  const parsed = parseDmxValue(text);
  return parsed && onBytes(parsed, bytes);
};

test.each([
  { text: "255/1", bytes: 2, is: 65535, source: "printed in DIN SPEC 15800, table 1" },
  { text: "255/1s", bytes: 2, is: 65280, source: "printed in DIN SPEC 15800, table 1" },
  { text: "128/1", bytes: 2, is: 32896, source: "worked" },
  { text: "128/1s", bytes: 2, is: 32768, source: "worked" },
  { text: "1/1", bytes: 2, is: 257, source: "worked" },
  { text: "1/1s", bytes: 2, is: 256, source: "worked" },
  { text: "32768/2", bytes: 1, is: 128, source: "worked: 32768 / 65535 x 255 = 127.502, rounded" },
  { text: "33023/2s", bytes: 1, is: 128, source: "worked: 0x80ff without its fine byte" },
  { text: "255/1", bytes: 4, is: 4294967295, source: "worked" },
  { text: "1/1s", bytes: 4, is: 16777216, source: "worked" },
])("$text on $bytes bytes is $is ($source)", ({ text, bytes, is }) => {
  expect(value(text, bytes)).toBe(is);
});

test.each(["", "None", "128", "128/0", "128/5", "-1/1", "1.5/1", "256/1", "65536/2", "1/1x", "1 /1", "99999999999/4"])(
  '"%s" is no DMX value',
  (text) => {
    expect(value(text, 1)).toBeUndefined();
  },
);

const width = fc.integer({ min: 1, max: 4 });
const written = fc
  .tuple(width, fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom("", "s"))
  .map(([bytes, share, widens]) => ({ text: `${Math.floor(share * highest(bytes))}/${bytes}${widens}`, bytes }));

test("a value on its own number of bytes is itself", () => {
  fc.assert(fc.property(written, ({ text, bytes }) => value(text, bytes) === Number(text.split("/")[0])));
});

test("a mirrored value keeps both ends, and a larger one never becomes the smaller", () => {
  fc.assert(
    fc.property(width, width, fc.double({ min: 0, max: 1, noNaN: true }), (from, to, share) => {
      const raw = Math.floor(share * (highest(from) - 1));
      expect([value(`0/${from}`, to), value(`${highest(from)}/${from}`, to)]).toEqual([0, highest(to)]);
      expect(value(`${raw}/${from}`, to)).toBeLessThanOrEqual(value(`${raw + 1}/${from}`, to) ?? Number.NaN);
    }),
  );
});
