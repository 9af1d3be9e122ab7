import { readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  decode,
  encode,
  levelsMessage,
  type Message,
  NOTHING_PENDING,
  parametersRequest,
  replyOf,
  serialNumberRequest,
} from "../../src/wire/messages.ts";
import { otherDriver } from "../bench/line/other-driver.ts";
import { lineDecoder } from "../kit/line-decoder.ts";
import { ptyPair } from "../kit/pty.ts";

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

test("another open implementation writes the same bytes as we do, and we read them", async () => {
  // dmx-ts 0.4.0, its own framed serial driver, over a pseudo-terminal.
  const levels = Uint8Array.from({ length: 512 }, (_, slot) => (slot * 7) & 255);
  const seen: { readonly message: Message; readonly raw: Uint8Array }[] = [];
  let pending = NOTHING_PENDING;
  const pair = ptyPair((bytes) => {
    const before = pending;
    const decoded = decode(pending, bytes);
    pending = decoded.pending;
    for (const message of decoded.messages) seen.push({ message, raw: Buffer.concat([before, bytes]) });
  });
  const driver = otherDriver(pair.path);
  await driver.init();
  pair.taken();
  driver.update(Object.fromEntries(Array.from(levels, (level, slot) => [slot + 1, level])));
  while (seen.length === 0) await new Promise((resolve) => setImmediate(resolve));
  await driver.close();
  pair.pullOut();
  expect(seen[0]?.message).toEqual({ label: 6, payload: Uint8Array.of(0, ...levels) });
  expect(Uint8Array.from(seen[0]?.raw.subarray(0, 518) ?? [])).toEqual(levelsMessage(levels));
});

/** Layout of the replies: secondary, read in independent open implementations. */
const reply = (label: number, ...payload: number[]) => replyOf({ label, payload: Uint8Array.from(payload) });

test("break and mark come in units of 10.67 us", () => {
  expect(reply(3, 0x44, 0x01, 9, 2, 40)).toEqual({
    kind: "parameters",
    firmware: 0x144,
    breakTime: 9 * 10.67,
    markTime: 2 * 10.67,
    rate: 40,
  });
});

test("a rate of 0 means as fast as it can", () => {
  expect(reply(3, 0, 0, 17, 2, 0)).toMatchObject({ rate: "fastest" });
});

test("the user's own bytes after the parameters change nothing", () => {
  expect(reply(3, 1, 2, 17, 2, 40, 9, 9)).toEqual(reply(3, 1, 2, 17, 2, 40));
});

test("the serial number comes low byte first", () => {
  expect(reply(10, 0x78, 0x56, 0x34, 0xf2)).toEqual({ kind: "serial-number", serialNumber: 0xf2345678 });
});

test.each([
  { because: "parameters with a byte missing", label: 3, payload: [1, 2, 3, 4] },
  { because: "a serial number with a byte missing", label: 10, payload: [1, 2, 3] },
  { because: "a label nobody told us about", label: 77, payload: [1] },
])("$because is unknown, not a guess", ({ label, payload }) => {
  expect(reply(label, ...payload).kind).toBe("unknown");
});

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
