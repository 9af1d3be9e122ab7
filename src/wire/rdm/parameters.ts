import { keysOf } from "../../domain/keys.ts";
import {
  just,
  type Layout,
  listOf,
  nothing,
  record,
  recordAndText,
  s16,
  text,
  u8,
  u16,
  u32,
  words16,
  yesOrNo,
} from "./layout.ts";

/** A parameter that can be read: what the question carries, what the answer means. */
export interface Readable<Asked, Answer> {
  readonly pid: number;
  readonly asks: Layout<Asked>;
  readonly answers: Layout<Answer>;
}
/** A parameter that can be set, or a command that is given by setting it. */
export interface Settable<Value> {
  readonly pid: number;
  readonly sets: Layout<Value>;
}

const reads = <Answer>(pid: number, answers: Layout<Answer>): Readable<undefined, Answer> => ({
  pid,
  asks: nothing,
  answers,
});
const readsOne = <Asked, Answer>(pid: number, asks: Layout<Asked>, answers: Layout<Answer>) => ({ pid, asks, answers });
const kept = <Value>(pid: number, value: Layout<Value>): Readable<undefined, Value> & Settable<Value> => ({
  ...reads(pid, value),
  sets: value,
});

const byte = just(u8);
const count = just(u32);
const address: Layout<number> = {
  ...just(u16, [1, 512]),
  // A fixture without slots of its own says FFFF.
  read: (bytes) => just(u16, [1, 512]).read(bytes) ?? (just(u16).read(bytes) === NO_ADDRESS ? NO_ADDRESS : undefined),
};
/** What DMX_START_ADDRESS and DEVICE_INFO say of a fixture that takes no slots. */
export const NO_ADDRESS = 0xffff;

const STATUS_MESSAGE = { subDevice: u16, type: u8, id: u16, data1: s16, data2: s16 } as const;
/** One line of what a fixture reports of itself. `id` has its words in STATUS_IDS, or in the fixture, from 8000 on. */
export interface StatusMessage {
  readonly subDevice: number;
  readonly type: number;
  readonly id: number;
  readonly data1: number;
  readonly data2: number;
}

const DEVICE_INFO = {
  protocol: u16,
  model: u16,
  category: u16,
  software: u32,
  slots: u16,
  personality: u8,
  personalities: u8,
  address: u16,
  subDevices: u16,
  sensors: u8,
} as const;

/** A sensor's own words about itself. -32768 and 32767 stand for "not defined". */
const SENSOR_DEFINITION = {
  sensor: u8,
  type: u8,
  unit: u8,
  prefix: u8,
  lowest: s16,
  highest: s16,
  normalFrom: s16,
  normalTo: s16,
  records: u8,
} as const;

/** What a fixture says of a parameter that is its maker's own. */
const PARAMETER_DESCRIPTION = {
  pid: u16,
  size: u8,
  data: u8,
  commands: u8,
  type: u8,
  unit: u8,
  prefix: u8,
  least: u32,
  most: u32,
  usual: u32,
} as const;

const SENSOR_VALUE = { sensor: u8, present: s16, lowest: s16, highest: s16, recorded: s16 } as const;
const REAL_TIME_CLOCK = { year: u16, month: u8, day: u8, hour: u8, minute: u8, second: u8 } as const;

/**
 * What is asked of a fixture at a bench, by the standard's own names: ANSI E1.20, and E1.37-1 and -5 where it says so
 * (secondary: read in independent open implementations).
 */
export const PARAMETERS = {
  COMMS_STATUS: {
    ...reads(0x0015, record({ tooShort: u16, wrongLength: u16, wrongChecksum: u16 })),
    sets: nothing,
  },
  STATUS_MESSAGES: readsOne(0x0030, byte, listOf<StatusMessage>(STATUS_MESSAGE)),
  STATUS_ID_DESCRIPTION: readsOne(0x0031, just(u16), text()),
  CLEAR_STATUS_ID: { pid: 0x0032, sets: nothing },
  PARAMETER_DESCRIPTION: readsOne(0x0051, just(u16), recordAndText(PARAMETER_DESCRIPTION)),
  SUPPORTED_PARAMETERS: reads(0x0050, words16),
  DEVICE_INFO: reads(0x0060, record(DEVICE_INFO)),
  PRODUCT_DETAIL_ID_LIST: reads(0x0070, words16),
  DEVICE_MODEL_DESCRIPTION: reads(0x0080, text()),
  MANUFACTURER_LABEL: reads(0x0081, text()),
  DEVICE_LABEL: kept(0x0082, text()),
  FACTORY_DEFAULTS: { ...reads(0x0090, yesOrNo), sets: nothing },
  SOFTWARE_VERSION_LABEL: reads(0x00c0, text()),
  BOOT_SOFTWARE_VERSION_ID: reads(0x00c1, count),
  BOOT_SOFTWARE_VERSION_LABEL: reads(0x00c2, text()),
  /** E1.37-5. */
  SERIAL_NUMBER: reads(0x00d3, text(231)),
  DMX_PERSONALITY: { ...reads(0x00e0, record({ current: u8, count: u8 })), sets: just(u8, [1, 255]) },
  DMX_PERSONALITY_DESCRIPTION: readsOne(0x00e1, byte, recordAndText({ personality: u8, slots: u16 })),
  DMX_START_ADDRESS: kept(0x00f0, address),
  SLOT_INFO: reads(0x0120, listOf({ offset: u16, type: u8, label: u16 })),
  SLOT_DESCRIPTION: readsOne(0x0121, just(u16), recordAndText({ offset: u16 })),
  DEFAULT_SLOT_VALUE: reads(0x0122, listOf({ offset: u16, value: u8 })),
  SENSOR_DEFINITION: readsOne(0x0200, byte, recordAndText(SENSOR_DEFINITION)),
  SENSOR_VALUE: { ...readsOne(0x0201, byte, record(SENSOR_VALUE)), sets: byte },
  RECORD_SENSORS: { pid: 0x0202, sets: byte },
  /** In hours. */
  DEVICE_HOURS: kept(0x0400, count),
  /** In hours. */
  LAMP_HOURS: kept(0x0401, count),
  LAMP_STRIKES: kept(0x0402, count),
  LAMP_STATE: kept(0x0403, byte),
  LAMP_ON_MODE: kept(0x0404, byte),
  DEVICE_POWER_CYCLES: kept(0x0405, count),
  /** 0 off, 1 on, 2 by itself (from memory). */
  DISPLAY_INVERT: kept(0x0500, byte),
  /** 0 off to 255 full (from memory). */
  DISPLAY_LEVEL: kept(0x0501, byte),
  PAN_INVERT: kept(0x0600, yesOrNo),
  TILT_INVERT: kept(0x0601, yesOrNo),
  PAN_TILT_SWAP: kept(0x0602, yesOrNo),
  REAL_TIME_CLOCK: kept(0x0603, record(REAL_TIME_CLOCK)),
  IDENTIFY_DEVICE: kept(0x1000, yesOrNo),
  RESET_DEVICE: { pid: 0x1001, sets: byte },
  POWER_STATE: kept(0x1010, byte),
  PERFORM_SELFTEST: { ...reads(0x1020, yesOrNo), sets: byte },
  SELF_TEST_DESCRIPTION: readsOne(0x1021, byte, recordAndText({ test: u8 })),
  /** E1.37-1. */
  POWER_ON_SELF_TEST: kept(0x1044, yesOrNo),
} as const;

export type ParameterName = keyof typeof PARAMETERS;
export const PARAMETER_NAMES = keysOf(PARAMETERS);

/** The search, and the queue: spoken only by `discovery.ts` and `ask.ts`. */
export const SEARCH = { branch: 0x0001, mute: 0x0002, unmute: 0x0003 } as const;
export const QUEUED_MESSAGE = 0x0020;

/**
 * A parameter by its name in the standard, "LAMP_HOURS", or "parameter 8001" of the maker's own.
 * `pid` is its 16-bit number, 0 to 0xFFFF.
 */
export const parameterName = (pid: number): string =>
  PARAMETER_NAMES.find((name) => PARAMETERS[name].pid === pid) ??
  `parameter ${pid.toString(16).toUpperCase().padStart(4, "0")}`;

/** What every responder must answer, and so leaves out of its own list (from memory). */
export const ALWAYS_SUPPORTED: readonly ParameterName[] = [
  "SUPPORTED_PARAMETERS",
  "DEVICE_INFO",
  "SOFTWARE_VERSION_LABEL",
  "DMX_START_ADDRESS",
  "IDENTIFY_DEVICE",
];
