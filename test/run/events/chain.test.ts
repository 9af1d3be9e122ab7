import fc from "fast-check";
import { expect, test } from "vitest";
import {
  canonical,
  DAWN,
  hashOf,
  isSound,
  NO_HASH,
  nextStamp,
  order,
  orderKey,
  printedHead,
  readHead,
  type Stamp,
} from "../../../src/run/events/chain.ts";

/** RFC 8785 (JSON Canonicalization Scheme): sections 3.2.2 and 3.2.3 and appendix B; from memory. */
test.each([
  {
    section: "3.2.2",
    value: {
      // biome-ignore lint/correctness/noPrecisionLoss: the example of the standard loses it on purpose
      numbers: [333333333.33333329, 1e30, 4.5, 2e-3, 0.000000000000000000000000001],
      string: '\u20ac$\u000f\nA\'B"\\\\"/',
      literals: [null, true, false],
    },
    text: '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  },
  {
    section: "3.2.3",
    value: {
      "\u20ac": "Euro Sign",
      "\r": "Carriage Return",
      "\ufb33": "Hebrew Letter Dalet With Dagesh",
      "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face",
      "\u0080": "Control",
      "\u00f6": "Latin Small Letter O With Diaeresis",
    },
    text: '{"\\r":"Carriage Return","1":"One","\u0080":"Control","ö":"Latin Small Letter O With Diaeresis","€":"Euro Sign","😀":"Emoji: Grinning Face","\ufb33":"Hebrew Letter Dalet With Dagesh"}',
  },
  { section: "appendix B", value: [-0, 1e21, 1e-7, 9007199254740992], text: "[0,1e+21,1e-7,9007199254740992]" },
])("a value has the canonical text of RFC 8785, section $section", ({ value, text }) => {
  expect(canonical(value)).toBe(text);
});

test("whatever the order in which members were written, the text is the same and says the same", () => {
  fc.assert(
    fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (value) => {
      const turned = Object.fromEntries(Object.entries(value).reverse());
      expect(canonical(turned)).toBe(canonical(value));
      expect(JSON.parse(canonical(value))).toEqual(JSON.parse(JSON.stringify(value)));
    }),
  );
});

const LINK = { origin: "0123456789ab", number: 1, time: 5, counter: 0, before: NO_HASH };
const EVENT = '{"a":1}';

test("the hash is SHA-256 of the canonical form of content, place and hash before", () => {
  // printf '%s' '{"before":"00...","bench":"0123456789ab","clock":[5,0],"event":{"a":1},"number":1}' | sha256sum
  expect(hashOf(LINK, EVENT)).toBe("1b895fa7a557f4c321212223cf642ba7d9e7bfaa83e8949e037f5d48487ce2d3");
});

test("no part of an event in the chain can be changed without its hash", () => {
  const whole = { ...LINK, event: EVENT, hash: hashOf(LINK, EVENT) };
  expect(isSound(whole)).toBe(true);
  for (const change of [
    { origin: "0123456789ac" },
    { number: 2 },
    { time: 6 },
    { counter: 1 },
    { before: "1".repeat(64) },
    { event: '{"a":2}' },
  ])
    expect(isSound({ ...whole, ...change })).toBe(false);
});

test("a head is printed short, read again, and nothing else is taken for one", () => {
  expect(printedHead({ number: 1234, hash: `9c1e77ab02dd${"0".repeat(52)}` })).toBe("1234-9c1e77ab02dd");
  expect(readHead(" 1234-9c1e77ab02dd\n")).toEqual({ number: 1234, hash: "9c1e77ab02dd" });
  for (const other of ["", "1234", "0-9c1e77ab02dd", "1234-9c1e", "12x-9c1e77ab02dd", "1234-9C1E77AB02DD"])
    expect(readHead(other)).toBeUndefined();
});

const stamps: fc.Arbitrary<Stamp> = fc.record({
  time: fc.nat(3),
  counter: fc.nat(3),
  origin: fc.constantFrom("a", "b", "c"),
});

test("the order is total, and its keys as texts are in the same order", () => {
  fc.assert(
    fc.property(stamps, stamps, stamps, (a, b, c) => {
      expect(Math.sign(order(a, b))).toBe(-Math.sign(order(b, a)) + 0);
      if (order(a, b) <= 0 && order(b, c) <= 0) expect(order(a, c)).toBeLessThanOrEqual(0);
      expect(order(a, b) === 0).toBe(orderKey(a) === orderKey(b));
      expect(order(a, b) < 0).toBe(orderKey(a) < orderKey(b));
    }),
  );
});

test("however the computer's clock is set, the next event comes after all that is known", () => {
  const dates = fc.oneof(
    fc.date({ noInvalidDate: true }).map((date) => date.toISOString()),
    fc.constant("no date"),
  );
  fc.assert(
    fc.property(fc.array(dates), (at) => {
      let latest: Stamp = { ...DAWN, origin: "a" };
      for (const one of at) {
        const next = nextStamp(latest, one, "a");
        expect(order(latest, next)).toBeLessThan(0);
        latest = next;
      }
    }),
  );
});
