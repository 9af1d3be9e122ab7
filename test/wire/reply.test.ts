import { expect, test } from "vitest";
import { replyOf } from "../../src/wire/messages.ts";

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
