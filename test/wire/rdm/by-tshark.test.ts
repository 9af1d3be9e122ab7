import { describe, expect, test } from "vitest";
import { type ArtRdmMessage, artRdmIn, artRdmPacket } from "../../../src/wire/art-net.ts";
import { type Layout, nothing } from "../../../src/wire/rdm/layout.ts";
import { encodePacket, uidText } from "../../../src/wire/rdm/packet.ts";
import { PARAMETER_NAMES, PARAMETERS, type ParameterName } from "../../../src/wire/rdm/parameters.ts";
import { dissected, fieldOf, noTshark } from "./pcap.ts";
import { bytesOf, IN_SUITES, WORKED } from "./printed.ts";

const missing = noTshark();
const TEXT = "Spot 16, no. 7";

/** A value for every parameter that can be read, as a fixture might say it, with signs where there are any. */
const ANSWERS: { readonly [N in ParameterName]?: unknown } = {
  COMMS_STATUS: { tooShort: 1, wrongLength: 258, wrongChecksum: 65_535 },
  STATUS_MESSAGES: [
    { subDevice: 0, type: 4, id: 0x21, data1: 1, data2: -85 },
    { subDevice: 2, type: 2, id: 0x05, data1: 17, data2: 0 },
  ],
  STATUS_ID_DESCRIPTION: TEXT,
  SUPPORTED_PARAMETERS: [0x0400, 0x8001],
  DEVICE_INFO: {
    protocol: 0x100,
    model: 0x1234,
    category: 0x102,
    software: 0x01020304,
    slots: 24,
    personality: 1,
    personalities: 2,
    address: 489,
    subDevices: 3,
    sensors: 7,
  },
  PRODUCT_DETAIL_ID_LIST: [0x0101],
  DEVICE_MODEL_DESCRIPTION: TEXT,
  MANUFACTURER_LABEL: TEXT,
  DEVICE_LABEL: TEXT,
  FACTORY_DEFAULTS: true,
  SOFTWARE_VERSION_LABEL: TEXT,
  BOOT_SOFTWARE_VERSION_ID: 4_000_000_000,
  BOOT_SOFTWARE_VERSION_LABEL: TEXT,
  DMX_PERSONALITY: { current: 2, count: 3 },
  DMX_PERSONALITY_DESCRIPTION: { personality: 2, slots: 300, text: TEXT },
  DMX_START_ADDRESS: 512,
  SLOT_INFO: [
    { offset: 0, type: 0, label: 0x101 },
    { offset: 257, type: 1, label: 0 },
  ],
  SLOT_DESCRIPTION: { offset: 259, text: TEXT },
  DEFAULT_SLOT_VALUE: [{ offset: 258, value: 128 }],
  PARAMETER_DESCRIPTION: {
    pid: 0x8001,
    ...{ size: 2, data: 5, commands: 1, type: 0, unit: 1, prefix: 0 },
    ...{ least: 3, most: 4000, usual: 20 },
    text: TEXT,
  },
  SENSOR_DEFINITION: {
    sensor: 3,
    type: 0,
    unit: 1,
    prefix: 0,
    lowest: -40,
    highest: 150,
    normalFrom: -5,
    normalTo: 85,
    records: 3,
    text: TEXT,
  },
  SENSOR_VALUE: { sensor: 3, present: 42, lowest: -5, highest: 61, recorded: -1 },
  DEVICE_HOURS: 4_000_000_001,
  LAMP_HOURS: 70_000,
  LAMP_STRIKES: 258,
  LAMP_STATE: 3,
  LAMP_ON_MODE: 2,
  DEVICE_POWER_CYCLES: 300,
  DISPLAY_INVERT: 2,
  DISPLAY_LEVEL: 128,
  PAN_INVERT: true,
  TILT_INVERT: false,
  PAN_TILT_SWAP: true,
  REAL_TIME_CLOCK: { year: 2026, month: 11, day: 28, hour: 17, minute: 5, second: 59 },
  IDENTIFY_DEVICE: true,
  POWER_STATE: 255,
  PERFORM_SELFTEST: true,
  SELF_TEST_DESCRIPTION: { test: 2, text: TEXT },
};
/** tshark 4.0 takes these for data without fields; their layouts are held only by the printed tables. */
const NOT_TAKEN_APART: readonly ParameterName[] = ["SERIAL_NUMBER", "POWER_ON_SELF_TEST"];

/** tshark 4.0 shows no field for the number of the sensor whose value is to be recorded. */
const WITHOUT_A_FIELD: ParameterName = "RECORD_SENSORS";

/** A value for every parameter that can be set, or is a command; `undefined` where nothing goes with it. */
const SETTINGS: { readonly [N in ParameterName]?: unknown } = {
  COMMS_STATUS: undefined,
  CLEAR_STATUS_ID: undefined,
  DEVICE_LABEL: TEXT,
  FACTORY_DEFAULTS: undefined,
  DMX_PERSONALITY: 2,
  DMX_START_ADDRESS: 512,
  SENSOR_VALUE: 3,
  RECORD_SENSORS: 255,
  DEVICE_HOURS: 4_000_000_001,
  LAMP_HOURS: 70_000,
  LAMP_STRIKES: 258,
  LAMP_STATE: 3,
  LAMP_ON_MODE: 2,
  DEVICE_POWER_CYCLES: 300,
  DISPLAY_INVERT: 2,
  DISPLAY_LEVEL: 128,
  PAN_INVERT: true,
  TILT_INVERT: false,
  PAN_TILT_SWAP: true,
  REAL_TIME_CLOCK: { year: 2026, month: 11, day: 28, hour: 17, minute: 5, second: 59 },
  IDENTIFY_DEVICE: true,
  RESET_DEVICE: 1,
  POWER_STATE: 255,
  PERFORM_SELFTEST: 2,
  POWER_ON_SELF_TEST: true,
};
/** What goes with a question, where anything does. */
const QUESTIONS: { readonly [N in ParameterName]?: unknown } = {
  STATUS_MESSAGES: 2,
  STATUS_ID_DESCRIPTION: 0x0005,
  PARAMETER_DESCRIPTION: 0x8001,
  DMX_PERSONALITY_DESCRIPTION: 2,
  SLOT_DESCRIPTION: 259,
  SENSOR_DEFINITION: 3,
  SENSOR_VALUE: 3,
  SELF_TEST_DESCRIPTION: 2,
};

const readable = PARAMETER_NAMES.filter((name) => "answers" in PARAMETERS[name]);
const settable = PARAMETER_NAMES.filter((name) => "sets" in PARAMETERS[name]);
const carrying = PARAMETER_NAMES.filter((name) => {
  const entry = PARAMETERS[name];
  return "asks" in entry && entry.asks !== nothing;
});

const said = (command: number, pid: number, data: Uint8Array) => {
  const packet = { destination: 1, source: 2, transaction: 3, port: 1, waiting: 0, subDevice: 0, command };
  return artRdmPacket({ kind: "rdm", universe: 0, packet: encodePacket({ ...packet, pid, data }) });
};
const answerOf = (name: ParameterName) => {
  const entry = PARAMETERS[name];
  if (!("answers" in entry)) throw new Error(`${name} cannot be read`);
  const data = (entry.answers as Layout<unknown>).write(ANSWERS[name]);
  const packet = { destination: 1, source: 2, transaction: 3, port: 0, waiting: 0, subDevice: 0, command: 0x21 };
  return artRdmPacket({ kind: "rdm", universe: 0, packet: encodePacket({ ...packet, pid: entry.pid, data }) });
};
const settingOf = (name: ParameterName) => {
  const entry = PARAMETERS[name];
  if (!("sets" in entry)) throw new Error(`${name} cannot be set`);
  return said(0x30, entry.pid, (entry.sets as Layout<unknown>).write(SETTINGS[name]));
};
const questionOf = (name: ParameterName) => {
  const entry = PARAMETERS[name];
  if (!("asks" in entry)) throw new Error(`${name} cannot be asked`);
  return said(0x20, entry.pid, (entry.asks as Layout<unknown>).write(QUESTIONS[name]));
};

/** tshark writes the standard's names in small letters, and two of them differently. */
const standardName = (words: string) =>
  words
    .replaceAll(/[ /]/g, "_")
    .toUpperCase()
    .replace("COMMUNICATION", "COMMS")
    .replace("PERFORM_SELF_TEST", "PERFORM_SELFTEST");

/** Numbers as 16 bits of either sign read the same, texts as they are, in the order in which they lie in the packet. */
const flat = (value: unknown): readonly string[] => {
  if (Array.isArray(value)) return value.flatMap(flat);
  if (typeof value === "object" && value !== null) return Object.values(value).flatMap(flat);
  if (typeof value === "string") return [value];
  const number = Number(value);
  return [String(number < 0 ? number + 65_536 : number)];
};

const carried = (value: unknown): readonly string[] => (value === undefined ? [] : flat(value));

/** The parameter's name and the values of its fields, as tshark reads them. */
const theirsOf = (payloads: readonly Uint8Array[]) =>
  dissected(payloads).map((packet) => ({
    name: standardName(/: (.*) \(/.exec(packet.find(({ name }) => name === "rdm.pid")?.words ?? "")?.[1] ?? ""),
    values: packet
      .filter(({ name, show }) => name.startsWith("rdm.pd.") && show !== "")
      .flatMap(({ show }) => flat(/^-?(0x)?[0-9a-f]+$/i.test(show) ? Number(show) : show)),
  }));

describe.skipIf(missing !== undefined)(`read by tshark${missing ? ` - ${missing}` : ""}`, () => {
  test("every parameter that can be read has a value here, or is named as one that tshark does not know", () => {
    const named = [...Object.keys(ANSWERS), ...NOT_TAKEN_APART];
    expect(named.sort()).toEqual([...readable].sort());
  });

  test("every parameter is called what we call it, and its fields are what we wrote", () => {
    const names = readable.filter((name) => !NOT_TAKEN_APART.includes(name));
    expect(theirsOf(names.map(answerOf))).toEqual(names.map((name) => ({ name, values: flat(ANSWERS[name]) })));
  });

  test("every setting and command carries what we wrote", () => {
    expect(Object.keys(SETTINGS).sort()).toEqual([...settable].sort());
    const names = settable.filter((name) => !NOT_TAKEN_APART.includes(name) && name !== WITHOUT_A_FIELD);
    expect(theirsOf(names.map(settingOf))).toEqual(names.map((name) => ({ name, values: carried(SETTINGS[name]) })));
  });

  test("every question that carries something carries what we wrote", () => {
    expect(Object.keys(QUESTIONS).sort()).toEqual([...carrying].sort());
    expect(theirsOf(carrying.map(questionOf))).toEqual(
      carrying.map((name) => ({ name, values: carried(QUESTIONS[name]) })),
    );
  });

  test("the printed packets: who to whom, what, and the checksum is right", () => {
    // That one answer counts as an ACK_TIMER by its slot 16, so tshark takes two of its four bytes for the time.
    const all = [...IN_SUITES, ...WORKED].filter(({ says }) => says !== "answer of parameter 0128");
    const packets = dissected(all.map(({ hex }) => artRdmPacket({ kind: "rdm", universe: 1, packet: bytesOf(hex) })));
    const uid = (number: number) => uidText(number).replace(":", "").toLowerCase().match(/../g)?.join(":");
    expect(
      packets.map((packet) =>
        ["dst", "src", "tn", "mc", "sd", "cc", "pid", "pdl", "checksum.status"].map((name) =>
          fieldOf(packet, `rdm.${name}`),
        ),
      ),
    ).toEqual(
      all.map(({ packet }) => [
        ...[uid(packet.destination), uid(packet.source), String(packet.transaction), String(packet.waiting)],
        ...[
          String(packet.subDevice),
          `0x${packet.command.toString(16)}`,
          `0x${packet.pid.toString(16).padStart(4, "0")}`,
        ],
        ...[String(packet.data.length), "1"],
      ]),
    );
  });

  test("Art-Net's messages about RDM: the universe, and what is asked", () => {
    const [request, search, table] = dissected(MESSAGES.map(artRdmPacket));
    expect([
      fieldOf(request!, "artnet.header.opcode"),
      fieldOf(request!, "artnet.tod_request.net"),
      fieldOf(request!, "artnet.tod_request.ad_count"),
      fieldOf(request!, "artnet.tod_request.address").slice(0, 2),
    ]).toEqual(["0x8000", "0x02", "1", "34"]);
    expect([
      fieldOf(search!, "artnet.header.opcode"),
      fieldOf(search!, "artnet.tod_control.command"),
      fieldOf(search!, "artnet.tod_control.universe"),
    ]).toEqual(["0x8200", "0x01", "564"]);
    expect([
      fieldOf(table!, "artnet.header.opcode"),
      fieldOf(table!, "artnet.tod_data.uid_total"),
      fieldOf(table!, "artnet.tod_data.uid_count"),
      fieldOf(table!, "artnet.tod_data.tod"),
    ]).toEqual(["0x8100", "300", "2", "7f:f0:00:00:00:02,7f:f0:00:00:00:03"]);
  });
});

const MESSAGES: readonly ArtRdmMessage[] = [
  { kind: "table-request", universe: 0x234 },
  { kind: "search", universe: 0x234 },
  { kind: "table", universe: 0x234, available: true, total: 300, block: 1, uids: [0x7ff000000002, 0x7ff000000003] },
];

test("Art-Net's messages about RDM are read back as they were written", () => {
  const rdm: ArtRdmMessage = { kind: "rdm", universe: 1, packet: bytesOf(WORKED[5]!.hex) };
  for (const message of [...MESSAGES, rdm]) expect(artRdmIn(artRdmPacket(message))).toEqual(message);
});

test("what breaks off, or is something else, is no message", () => {
  for (const message of MESSAGES) {
    const bytes = artRdmPacket(message);
    for (let length = 0; length < Math.min(24, bytes.length); length += 1)
      expect(artRdmIn(bytes.subarray(0, length))).toBeUndefined();
  }
  const table = artRdmPacket(MESSAGES[2]!);
  expect(artRdmIn(table.subarray(0, table.length - 1))).toBeUndefined();
});
