import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  decodePacket,
  decodeSearchReply,
  encodePacket,
  type RdmPacket,
  uidIn,
  uidText,
} from "../../../src/wire/rdm/packet.ts";
import { PARAMETERS } from "../../../src/wire/rdm/parameters.ts";
import { bytesOf, IN_SUITES, SEARCH_REPLIES, WORKED } from "./printed.ts";

const printed = (says: string) => [...IN_SUITES, ...WORKED].find((one) => one.says === says)!;

describe.each([
  ["printed in public test suites", IN_SUITES],
  ["worked out by hand", WORKED],
])("packets %s", (_, packets) => {
  test.each(packets)("$says: written as printed", ({ packet, hex }) => {
    expect(encodePacket(packet)).toEqual(bytesOf(hex));
  });
  test.each(packets)("$says: read as meant", ({ packet, hex }) => {
    expect(decodePacket(bytesOf(hex))).toEqual(packet);
  });
});

describe("what the printed packets hold", () => {
  test.each([
    [PARAMETERS.SUPPORTED_PARAMETERS, "SUPPORTED_PARAMETERS: 0040 and 0050, six wait", [0x40, 0x50]],
    [
      PARAMETERS.SENSOR_DEFINITION,
      "SENSOR_DEFINITION: degrees C, -40 to 100, normally 0 to 40",
      {
        sensor: 1,
        type: 0,
        unit: 1,
        prefix: 0,
        lowest: -40,
        highest: 100,
        normalFrom: 0,
        normalTo: 40,
        records: 0,
        text: "Test Description",
      },
    ],
    [PARAMETERS.IDENTIFY_DEVICE, "IDENTIFY_DEVICE: on, two wait", true],
    [
      PARAMETERS.DEVICE_INFO,
      "DEVICE_INFO",
      {
        protocol: 0x100,
        model: 0x1234,
        category: 0x102,
        software: 0x01020304,
        slots: 24,
        personality: 1,
        personalities: 2,
        address: 1,
        subDevices: 0,
        sensors: 3,
      },
    ],
    [PARAMETERS.LAMP_HOURS, "LAMP_HOURS 1234", 1234],
    [
      PARAMETERS.STATUS_MESSAGES,
      "STATUS_MESSAGES: sensor 1 at 85 C is too hot",
      [{ subDevice: 0, type: 4, id: 0x21, data1: 1, data2: 85 }],
    ],
    [
      PARAMETERS.SENSOR_VALUE,
      "SENSOR_VALUE: 42, lowest -5, highest 61",
      { sensor: 0, present: 42, lowest: -5, highest: 61, recorded: 0 },
    ],
  ])("%#: $1", ({ answers }, says, value) => {
    expect(answers.read(printed(says).packet.data)).toEqual(value);
  });

  test("what is sent: an address in two bytes, a yes in one", () => {
    expect(PARAMETERS.DMX_START_ADDRESS.sets.write(1)).toEqual(printed("SET DMX_START_ADDRESS 1").packet.data);
    expect(PARAMETERS.IDENTIFY_DEVICE.sets.write(true)).toEqual(printed("SET IDENTIFY_DEVICE on").packet.data);
  });
});

describe("answers to a search", () => {
  test.each(SEARCH_REPLIES)("%s is read, with any number of bytes before it from 0 to 7", (uid, hex) => {
    const bytes = bytesOf(hex);
    for (let missing = 0; missing <= 7; missing += 1)
      expect(uidText(decodeSearchReply(bytes.subarray(missing)) as number)).toBe(uid);
  });

  test.each([
    { bytes: "FE FE FE FE FE FE FE FE AA AA 55", because: "eight bytes before the separator are too many" },
    { bytes: "FE FE AA AA 55 AB 55", because: "it breaks off" },
    { bytes: "AA AA 55 AB 55 AA 55 AA 55 AA 55 AA 57 AF 55 FF FC", because: "a wrong checksum" },
    { bytes: "AA 2A 55 AB 55 AA 55 AA 55 AA 55 AA 57 AE 55 FF FD", because: "bits are missing that each byte has" },
    { bytes: "", because: "nothing at all" },
  ])("a collision: $because", ({ bytes }) => {
    expect(decodeSearchReply(bytes === "" ? new Uint8Array(0) : bytesOf(bytes))).toBe("collision");
  });
});

const packet: fc.Arbitrary<RdmPacket> = fc.record({
  destination: fc.nat({ max: 2 ** 48 - 1 }),
  source: fc.nat({ max: 2 ** 48 - 1 }),
  transaction: fc.nat({ max: 255 }),
  port: fc.nat({ max: 255 }),
  waiting: fc.nat({ max: 255 }),
  subDevice: fc.nat({ max: 0xffff }),
  command: fc.nat({ max: 255 }),
  pid: fc.nat({ max: 0xffff }),
  data: fc.uint8Array({ maxLength: 231 }),
});

test("decode undoes encode", () => {
  fc.assert(
    fc.property(packet, (one) => {
      expect(decodePacket(encodePacket(one))).toEqual(one);
    }),
  );
});

test("one byte changed is never read as if nothing were", () => {
  fc.assert(
    fc.property(packet, fc.nat(), fc.integer({ min: 1, max: 255 }), (one, where, by) => {
      const bytes = encodePacket(one);
      const at = where % bytes.length;
      bytes[at] = (bytes[at]! + by) & 255;
      expect(decodePacket(bytes)).not.toEqual(one);
      expect(typeof decodePacket(bytes)).toBe("string");
    }),
  );
});

test("any bytes at all are a packet or a reason, never a mistake of ours", () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
      decodePacket(bytes);
      decodeSearchReply(bytes);
    }),
  );
});

test.each([
  { bytes: "CC 01 18", why: "short", because: "it breaks off" },
  { bytes: "CC 02 18 00", why: "not-rdm", because: "another sub-start code" },
  { bytes: "00 01 18 00", why: "not-rdm", because: "levels have start code 0" },
  { bytes: "CC 01 17 00", why: "wrong-length", because: "shorter than its own header" },
  {
    bytes: "CC 01 19 00 16 00 00 00 2C 00 21 00 00 00 42 65 01 00 00 64 20 02 00 02 01 02 7A",
    why: "wrong-length",
    because: "it says two bytes of data and has one",
  },
])("$why: $because", ({ bytes, why }) => {
  expect(decodePacket(bytesOf(bytes))).toBe(why);
});

test("a UID is shown as the standard writes it, and read with or without the colon", () => {
  expect(uidText(0x7ff000000002)).toBe("7FF0:00000002");
  expect([uidIn("7ff0:00000002"), uidIn("7FF000000002"), uidIn("7FF0:2")]).toEqual([
    0x7ff000000002,
    0x7ff000000002,
    undefined,
  ]);
});
