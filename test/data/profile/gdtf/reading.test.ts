import fc from "fast-check";
import { expect, test } from "vitest";
import { highest, parseDmxValue } from "../../../../src/data/profile/gdtf/reading.ts";

const value = (text: string, bytes: number): number | undefined => parseDmxValue(text, bytes)?.raw;

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

test.each([
  { text: "200", bytes: 1, raw: 200, assumed: "read as 1 byte", because: "early versions wrote no bytes" },
  { text: "40000", bytes: 2, raw: 40000, assumed: "read as 2 bytes", because: "the bytes are then the channel's" },
  {
    text: "256/1",
    bytes: 1,
    raw: 255,
    assumed: "not within 0 to 255 of 1 byte: taken as 255",
    because: "256 levels end at 255",
  },
  {
    text: "-1/4",
    bytes: 1,
    raw: 0,
    assumed: "not within 0 to 4294967295 of 4 bytes: taken as 0",
    because: "-1 is a way to say none",
  },
  {
    text: "1/255",
    bytes: 1,
    raw: 1,
    assumed: "no channel has 255 bytes: read as 1 byte",
    because: "the bytes are then the channel's",
  },
  {
    text: "6D6D6D",
    bytes: 3,
    raw: 7171437,
    assumed: "read as hexadecimal on 3 bytes",
    because: "some write bytes in hexadecimal; 0x6d6d6d worked",
  },
])("$text on $bytes bytes: $because", ({ text, bytes, raw, assumed }) => {
  expect(parseDmxValue(text, bytes)).toEqual({ raw, assumed });
});

test.each(["", "1.5/1", "1/1x", "asdasd0asd/2", "9999999999999/4"])('"%s" is no DMX value', (text) => {
  expect(value(text, 1)).toBeUndefined();
});

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
