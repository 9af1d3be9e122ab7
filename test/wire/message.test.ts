import fc from "fast-check";
import { expect, test } from "vitest";
import { decode, NOTHING_PENDING } from "../../src/wire/decode.ts";
import { encode, type Message } from "../../src/wire/messages.ts";

/** The form of the messages is secondary: read in independent open implementations, not in an official copy. */
const bytesOf = (text: string) => Uint8Array.from(text.split(/[\s|]+/), (pair) => Number.parseInt(pair, 16));
const decodeAll = (bytes: Uint8Array) => decode(NOTHING_PENDING, bytes).messages;
const message: fc.Arbitrary<Message> = fc.record({
  label: fc.integer({ min: 0, max: 255 }),
  payload: fc.uint8Array({ maxLength: 600 }),
});
/** Everything decodes the same wherever the stream is cut. */
const decodeInPieces = (bytes: Uint8Array, cuts: readonly number[]) => {
  const places = [...cuts.map((cut) => cut % (bytes.length + 1)), bytes.length].sort((a, b) => a - b);
  let pending = NOTHING_PENDING;
  return places.flatMap((end, index) => {
    const decoded = decode(pending, bytes.subarray(places[index - 1] ?? 0, end));
    pending = decoded.pending;
    return [...decoded.messages];
  });
};
/** Published example stream with noise: exactly three messages. */
const NOISY = bytesOf(
  "7E 00 00 00 E7 | 7E 0B 04 00 DE AD BE EF E7 | AA BB | 7E FF FF FF E7 | 7E 0A 04 00 E7 E7 7E E7 E7 | 7E 02 04 00 DE AD BE EF AA",
);

test("levels 1, 2, 3, 4 are framed as 7E 06 05 00 00 01 02 03 04 E7", () => {
  // Worked from the published form.
  const payload = Uint8Array.of(0, 1, 2, 3, 4);
  expect(encode({ label: 6, payload })).toEqual(bytesOf("7E 06 05 00 00 01 02 03 04 E7"));
});

test("the published stream with noise holds exactly three messages", () => {
  expect(decodeAll(NOISY)).toEqual([
    { label: 0x00, payload: new Uint8Array(0) },
    { label: 0x0b, payload: bytesOf("DE AD BE EF") },
    { label: 0x0a, payload: bytesOf("E7 E7 7E E7") },
  ]);
});

test("decode undoes encode, wherever the stream is cut", () => {
  fc.assert(
    fc.property(fc.array(message, { maxLength: 6 }), fc.array(fc.nat()), (messages, cuts) => {
      expect(decodeInPieces(Buffer.concat(messages.map(encode)), cuts)).toEqual(messages);
    }),
  );
});

test("cutting a noisy stream anywhere changes nothing", () => {
  const bytes = fc.oneof(fc.uint8Array({ maxLength: 700 }), fc.constant(NOISY));
  fc.assert(
    fc.property(bytes, fc.array(fc.nat()), (stream, cuts) => {
      expect(decodeInPieces(stream, cuts)).toEqual(decodeAll(stream));
    }),
  );
});

test("whatever noise came before, a message after a pause of zeros is read", () => {
  const bytes = fc.array(fc.constantFrom(0x7e, 0xe7, 0x00, 0x01, 0x06, 0xff), { maxLength: 700 });
  fc.assert(
    fc.property(bytes, message, (noise, sent) => {
      const stream = Buffer.concat([Uint8Array.from(noise), new Uint8Array(605), encode(sent)]);
      expect(decodeAll(stream).at(-1)).toEqual(sent);
    }),
  );
});

test("a message cut short does not swallow the next one", () => {
  const stream = bytesOf("7E 06 05 00 00 01 7E 0A 00 00 E7");
  expect(decodeAll(stream)).toEqual([{ label: 0x0a, payload: new Uint8Array(0) }]);
});

test("a message that starts inside a false start is read", () => {
  // The first 7E takes the second for its label and 0A 00 for its length, and finds no end there.
  const stream = bytesOf("7E 7E 0A 00 00 E7 00 00 00 00 00 00 00 00 00");
  expect(decodeAll(stream)).toEqual([{ label: 0x0a, payload: new Uint8Array(0) }]);
});

test("what waits for more bytes is never longer than one message", () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 3000 }), (stream) => {
      expect(decode(NOTHING_PENDING, stream).pending.length).toBeLessThan(605);
    }),
  );
});

test("a payload of more than 600 bytes is our own mistake", () => {
  expect(() => encode({ label: 6, payload: new Uint8Array(601) })).toThrow("Bug");
});
