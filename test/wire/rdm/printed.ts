/**
 * RDM packets whose bytes others printed or that were worked out by hand from the tables of ANSI E1.20: what they are in
 * bytes, and what they say. Read by the tests of our codec and, through Art-Net, by tshark.
 */
import { type RdmPacket, uidIn } from "../../../src/wire/rdm/packet.ts";

export interface Printed {
  readonly says: string;
  readonly hex: string;
  readonly packet: RdmPacket;
}

const hexBytes = (hex: string) => Uint8Array.from(hex.trim().split(/\s+/), (pair) => Number.parseInt(pair, 16));
export const bytesOf = hexBytes;

const uid = (text: string) => uidIn(text)!;
/** to, from, transaction, slot 16, waiting, command, PID, data in hex. */
const row = (
  says: string,
  hex: string,
  [to, from, transaction, port, waiting, command, pid, data = "", subDevice = 0]: readonly [
    string,
    string,
    number,
    number,
    number,
    number,
    number,
    string?,
    number?,
  ],
): Printed => ({
  says,
  hex,
  packet: {
    destination: uid(to),
    source: uid(from),
    transaction,
    port,
    waiting,
    subDevice,
    command,
    pid,
    data: data === "" ? new Uint8Array(0) : hexBytes(data),
  },
});

const range = (from: number, count: number) =>
  Array.from({ length: count }, (_, at) => ((from + at) & 255).toString(16).padStart(2, "0")).join(" ");
const DESCRIPTION = "54 65 73 74 20 44 65 73 63 72 69 70 74 69 6F 6E";
const SIXTEEN_ZEROS = Array(16).fill("00").join(" ");

/** Printed in public test suites of independent implementations of E1.20; those with sub-device A in another one. */
export const IN_SUITES: readonly Printed[] = [
  row("GET SUPPORTED_PARAMETERS", "CC 01 18 00 03 00 00 00 04 00 01 00 00 00 02 05 06 00 00 07 20 00 50 00 01 71", [
    "0003:00000004",
    "0001:00000002",
    5,
    6,
    0,
    0x20,
    0x50,
    "",
    7,
  ]),
  row(
    "SUPPORTED_PARAMETERS: 0040 and 0050, six wait",
    "CC 01 1C 00 01 00 00 00 02 00 03 00 00 00 04 05 00 06 00 07 21 00 50 04 00 40 00 50 02 0A",
    ["0001:00000002", "0003:00000004", 5, 0, 6, 0x21, 0x50, "00 40 00 50", 7],
  ),
  row(
    "GET SUPPORTED_PARAMETERS of others",
    "CC 01 18 00 28 00 00 01 90 00 14 00 00 00 C8 7B 03 00 00 00 20 00 50 00 03 68",
    ["0028:00000190", "0014:000000C8", 0x7b, 3, 0, 0x20, 0x50],
  ),
  row(
    "230 bytes, and more to come",
    `CC 01 FE 00 14 00 00 00 C8 00 28 00 00 01 90 7B 03 00 00 00 21 00 50 E6 ${range(1, 230)} 6C FA`,
    ["0014:000000C8", "0028:00000190", 0x7b, 3, 0, 0x21, 0x50, range(1, 230)],
  ),
  row(
    "the last 70 bytes",
    `CC 01 5E 00 14 00 00 00 C8 00 28 00 00 01 90 7B 00 00 00 00 21 00 50 46 ${range(0xe7, 70)} 1F 8B`,
    ["0014:000000C8", "0028:00000190", 0x7b, 0, 0, 0x21, 0x50, range(0xe7, 70)],
  ),
  row("GET LAMP_STRIKES", "CC 01 18 00 C8 00 00 0F A0 00 64 00 00 07 D0 DE 01 00 00 21 20 04 02 00 04 BD", [
    "00C8:00000FA0",
    "0064:000007D0",
    0xde,
    1,
    0,
    0x20,
    0x402,
    "",
    0x21,
  ]),
  row("LAMP_STRIKES: in 1.1 s", "CC 01 1A 00 64 00 00 07 D0 00 C8 00 00 0F A0 DE 01 00 00 21 21 04 02 02 00 0B 04 CD", [
    "0064:000007D0",
    "00C8:00000FA0",
    0xde,
    1,
    0,
    0x21,
    0x402,
    "00 0B",
    0x21,
  ]),
  row(
    "RESET_DEVICE refused: no such sub-device",
    "CC 01 1A 00 64 00 00 07 D0 00 C8 00 00 0F A0 DE 02 00 00 21 31 10 01 02 00 09 04 E7",
    ["0064:000007D0", "00C8:00000FA0", 0xde, 2, 0, 0x31, 0x1001, "00 09", 0x21],
  ),
  row(
    "GET SENSOR_DEFINITION of sensor 1",
    "CC 01 19 00 16 00 00 00 2C 00 21 00 00 00 42 65 01 00 00 64 20 02 00 01 01 02 79",
    ["0016:0000002C", "0021:00000042", 0x65, 1, 0, 0x20, 0x200, "01", 0x64],
  ),
  row(
    "SENSOR_DEFINITION: degrees C, -40 to 100, normally 0 to 40",
    `CC 01 45 00 21 00 00 00 42 00 16 00 00 00 2C 65 00 00 00 64 21 02 00 2D 01 00 01 00 FF D8 00 64 00 00 00 28 00 ${DESCRIPTION} ${SIXTEEN_ZEROS} 0B 79`,
    [
      "0021:00000042",
      "0016:0000002C",
      0x65,
      0,
      0,
      0x21,
      0x200,
      `01 00 01 00 FF D8 00 64 00 00 00 28 00 ${DESCRIPTION} ${SIXTEEN_ZEROS}`,
      0x64,
    ],
  ),
  row("GET IDENTIFY_DEVICE", "CC 01 18 00 21 00 00 00 42 00 16 00 00 00 2C 37 01 00 00 F0 20 10 00 00 02 E2", [
    "0021:00000042",
    "0016:0000002C",
    0x37,
    1,
    0,
    0x20,
    0x1000,
    "",
    0xf0,
  ]),
  row(
    "IDENTIFY_DEVICE: on, two wait",
    "CC 01 19 00 16 00 00 00 2C 00 21 00 00 00 42 37 00 02 00 F0 21 10 00 01 01 02 E7",
    ["0016:0000002C", "0021:00000042", 0x37, 0, 2, 0x21, 0x1000, "01", 0xf0],
  ),
  row("GET of parameter 0128", "CC 01 18 00 03 00 00 00 04 00 01 00 00 00 02 00 01 00 00 0A 20 01 28 00 01 43", [
    "0003:00000004",
    "0001:00000002",
    0,
    1,
    0,
    0x20,
    0x128,
    "",
    0x0a,
  ]),
];

/** Worked out by hand; the one with STATUS_MESSAGES from the fields of the standard's own example. */
export const WORKED: readonly Printed[] = [
  row(
    "SET of parameter 0128",
    "CC 01 1C 00 03 00 00 00 04 00 01 00 00 00 02 00 01 00 00 0A 30 01 28 04 A5 A5 A5 A5 03 EF",
    ["0003:00000004", "0001:00000002", 0, 1, 0, 0x30, 0x128, "A5 A5 A5 A5", 0x0a],
  ),
  row(
    "answer of parameter 0128",
    "CC 01 1C 00 03 00 00 00 04 00 01 00 00 00 02 00 01 00 00 0A 21 01 28 04 5A 5A 5A 5A 02 B4",
    ["0003:00000004", "0001:00000002", 0, 1, 0, 0x21, 0x128, "5A 5A 5A 5A", 0x0a],
  ),
  row(
    "a search in part of the range",
    "CC 01 24 FF FF FF FF FF FF 00 01 00 00 00 02 01 01 00 00 00 10 00 01 0C 01 02 00 00 03 04 05 06 00 00 07 08 07 31",
    ["FFFF:FFFFFFFF", "0001:00000002", 1, 1, 0, 0x10, 1, "01 02 00 00 03 04 05 06 00 00 07 08"],
  ),
  row("be silent in searches", "CC 01 18 00 03 00 00 00 04 00 01 00 00 00 02 01 01 00 00 00 10 00 02 00 01 03", [
    "0003:00000004",
    "0001:00000002",
    1,
    1,
    0,
    0x10,
    2,
  ]),
  row("answer searches again", "CC 01 18 00 03 00 00 00 04 00 01 00 00 00 02 01 01 00 00 00 10 00 03 00 01 04", [
    "0003:00000004",
    "0001:00000002",
    1,
    1,
    0,
    0x10,
    3,
  ]),
  row(
    "the standard's example with slot 16 at 0",
    "CC 01 19 12 34 56 78 9A BC CB A9 87 65 43 21 00 00 00 00 00 20 00 30 01 04 06 69",
    ["1234:56789ABC", "CBA9:87654321", 0, 0, 0, 0x20, 0x30, "04"],
  ),
  row(
    "the standard's example with slot 16 at 1",
    "CC 01 19 12 34 56 78 9A BC CB A9 87 65 43 21 00 01 00 00 00 20 00 30 01 04 06 6A",
    ["1234:56789ABC", "CBA9:87654321", 0, 1, 0, 0x20, 0x30, "04"],
  ),
  row(
    "everybody answers searches again",
    "CC 01 18 FF FF FF FF FF FF 7F F0 00 00 00 01 00 01 00 00 00 10 00 03 00 08 63",
    ["FFFF:FFFFFFFF", "7FF0:00000001", 0, 1, 0, 0x10, 3],
  ),
  row(
    "who is there?",
    "CC 01 24 FF FF FF FF FF FF 7F F0 00 00 00 01 00 01 00 00 00 10 00 01 0C 00 00 00 00 00 00 FF FF FF FF FF FE 0E 72",
    ["FFFF:FFFFFFFF", "7FF0:00000001", 0, 1, 0, 0x10, 1, "00 00 00 00 00 00 FF FF FF FF FF FE"],
  ),
  row("one be silent", "CC 01 18 7F F0 00 00 00 02 7F F0 00 00 00 01 01 01 00 00 00 10 00 02 00 03 DA", [
    "7FF0:00000002",
    "7FF0:00000001",
    1,
    1,
    0,
    0x10,
    2,
  ]),
  row("it is", "CC 01 1A 7F F0 00 00 00 01 7F F0 00 00 00 02 01 00 00 00 00 11 00 02 02 00 00 03 DE", [
    "7FF0:00000001",
    "7FF0:00000002",
    1,
    0,
    0,
    0x11,
    2,
    "00 00",
  ]),
  row("GET DEVICE_INFO", "CC 01 18 7F F0 00 00 00 02 7F F0 00 00 00 01 02 01 00 00 00 20 00 60 00 04 49", [
    "7FF0:00000002",
    "7FF0:00000001",
    2,
    1,
    0,
    0x20,
    0x60,
  ]),
  row(
    "DEVICE_INFO",
    "CC 01 2B 7F F0 00 00 00 01 7F F0 00 00 00 02 02 00 00 00 00 21 00 60 13 01 00 12 34 01 02 01 02 03 04 00 18 01 02 00 01 00 00 03 04 E2",
    ["7FF0:00000001", "7FF0:00000002", 2, 0, 0, 0x21, 0x60, "01 00 12 34 01 02 01 02 03 04 00 18 01 02 00 01 00 00 03"],
  ),
  row(
    "SET DMX_START_ADDRESS 1",
    "CC 01 1A 7F F0 00 00 00 02 7F F0 00 00 00 01 03 01 00 00 00 30 00 F0 02 00 01 04 EF",
    ["7FF0:00000002", "7FF0:00000001", 3, 1, 0, 0x30, 0xf0, "00 01"],
  ),
  row("it is set", "CC 01 18 7F F0 00 00 00 01 7F F0 00 00 00 02 03 00 00 00 00 31 00 F0 00 04 EA", [
    "7FF0:00000001",
    "7FF0:00000002",
    3,
    0,
    0,
    0x31,
    0xf0,
  ]),
  row("LAMP_HOURS 1234", "CC 01 1C 7F F0 00 00 00 01 7F F0 00 00 00 02 04 00 00 00 00 21 04 01 04 00 00 04 D2 04 CE", [
    "7FF0:00000001",
    "7FF0:00000002",
    4,
    0,
    0,
    0x21,
    0x401,
    "00 00 04 D2",
  ]),
  row(
    "LAMP_HOURS refused: unknown",
    "CC 01 1A 7F F0 00 00 00 01 7F F0 00 00 00 02 05 02 00 00 00 21 04 01 02 00 00 03 F7",
    ["7FF0:00000001", "7FF0:00000002", 5, 2, 0, 0x21, 0x401, "00 00"],
  ),
  row("SET IDENTIFY_DEVICE on", "CC 01 19 7F F0 00 00 00 02 7F F0 00 00 00 01 06 01 00 00 00 30 10 00 01 01 04 10", [
    "7FF0:00000002",
    "7FF0:00000001",
    6,
    1,
    0,
    0x30,
    0x1000,
    "01",
  ]),
  row(
    "STATUS_MESSAGES: sensor 1 at 85 C is too hot",
    "CC 01 21 7F F0 00 00 00 01 7F F0 00 00 00 02 07 00 00 00 00 21 00 30 09 00 00 04 00 21 00 01 00 55 04 AB",
    ["7FF0:00000001", "7FF0:00000002", 7, 0, 0, 0x21, 0x30, "00 00 04 00 21 00 01 00 55"],
  ),
  row(
    "SENSOR_VALUE: 42, lowest -5, highest 61",
    "CC 01 21 7F F0 00 00 00 01 7F F0 00 00 00 02 08 00 00 00 00 21 02 01 09 00 00 2A FF FB 00 3D 00 00 06 65",
    ["7FF0:00000001", "7FF0:00000002", 8, 0, 0, 0x21, 0x201, "00 00 2A FF FB 00 3D 00 00"],
  ),
];

/** How a fixture answers a search, worked out by hand. */
export const SEARCH_REPLIES = [
  ["0001:00000002", "FE FE FE FE FE FE FE AA AA 55 AB 55 AA 55 AA 55 AA 55 AA 57 AF 55 FF FD"],
  ["7FF0:00000002", "FE FE FE FE FE FE FE AA FF 7F FA F5 AA 55 AA 55 AA 55 AA 57 AF 57 EB 7F"],
  ["7A70:00000001", "FE FE FE FE FE FE FE AA FA 7F FA 75 AA 55 AA 55 AA 55 AB 55 AE 57 EF F5"],
  ["1234:56789ABC", "FE FE FE FE FE FE FE AA BA 57 BE 75 FE 57 FA 7D BA DF BE FD AA 5D EE 75"],
] as const;
