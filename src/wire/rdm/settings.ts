import { ask, put, troubleWith } from "./ask.ts";
import type { Dialogue } from "./dialogue.ts";
import { Inquiry } from "./identity.ts";
import type { Layout } from "./layout.ts";
import type { Uid } from "./packet.ts";
import { PARAMETERS, type ParameterName, type Readable, type Settable } from "./parameters.ts";

/** What a hirer may have changed in a fixture's menu, and a shop wants back as it was. */
export const SETTING_NAMES = [
  "DMX_START_ADDRESS",
  "DMX_PERSONALITY",
  "DEVICE_LABEL",
  "PAN_INVERT",
  "TILT_INVERT",
  "PAN_TILT_SWAP",
  "LAMP_ON_MODE",
  "DISPLAY_INVERT",
  "DISPLAY_LEVEL",
  "POWER_ON_SELF_TEST",
] as const satisfies readonly ParameterName[];
export type SettingName = (typeof SETTING_NAMES)[number];

/** The value of a setting: on and off are 1 and 0; a label is a text. */
export type SettingValue = number | string;
/** Those that the fixture has, with their values. */
export type FixtureSettings = { readonly [N in SettingName]?: SettingValue };

/** In words, as a menu says it. */
export const SETTING_WORDS: Readonly<Record<SettingName, string>> = {
  DMX_START_ADDRESS: "start address",
  DMX_PERSONALITY: "mode",
  DEVICE_LABEL: "label",
  PAN_INVERT: "pan inverted",
  TILT_INVERT: "tilt inverted",
  PAN_TILT_SWAP: "pan and tilt swapped",
  LAMP_ON_MODE: "lamp on mode",
  DISPLAY_INVERT: "display inverted",
  DISPLAY_LEVEL: "display brightness",
  POWER_ON_SELF_TEST: "self-test at power on",
};

/** How a setting is read and set, its value as it is kept. */
interface Access {
  read(inquiry: Inquiry): Dialogue<SettingValue | undefined>;
  write(uid: Uid, value: SettingValue): Dialogue<string | undefined>;
}

type Both<T> = Readable<undefined, T> & Settable<T>;
const access = <T>(parameter: Both<T>, keep: (value: T) => SettingValue, back: (value: SettingValue) => T): Access => ({
  *read(inquiry) {
    const value = yield* inquiry.read(parameter, undefined);
    return value === undefined ? undefined : keep(value);
  },
  *write(uid, value) {
    return troubleWith(parameter, yield* put(uid, parameter, back(value)));
  },
});
const number = (parameter: Both<number>) => access(parameter, (value) => value, Number);
const onOff = (parameter: Both<boolean>) => access(parameter, Number, Boolean);

const ACCESS: Readonly<Record<SettingName, Access>> = {
  DMX_START_ADDRESS: number(PARAMETERS.DMX_START_ADDRESS),
  DMX_PERSONALITY: {
    *read(inquiry) {
      return (yield* inquiry.read(PARAMETERS.DMX_PERSONALITY, undefined))?.current;
    },
    *write(uid, value) {
      return troubleWith(PARAMETERS.DMX_PERSONALITY, yield* put(uid, PARAMETERS.DMX_PERSONALITY, Number(value)));
    },
  },
  DEVICE_LABEL: access(PARAMETERS.DEVICE_LABEL, (value) => value, String),
  PAN_INVERT: onOff(PARAMETERS.PAN_INVERT),
  TILT_INVERT: onOff(PARAMETERS.TILT_INVERT),
  PAN_TILT_SWAP: onOff(PARAMETERS.PAN_TILT_SWAP),
  LAMP_ON_MODE: number(PARAMETERS.LAMP_ON_MODE),
  DISPLAY_INVERT: number(PARAMETERS.DISPLAY_INVERT),
  DISPLAY_LEVEL: number(PARAMETERS.DISPLAY_LEVEL),
  POWER_ON_SELF_TEST: onOff(PARAMETERS.POWER_ON_SELF_TEST),
};

/** Reads every setting that the fixture has; `supported` are the 16-bit numbers of the parameters that it says it knows. */
export function* readSettings(inquiry: Inquiry, supported: readonly number[]): Dialogue<FixtureSettings> {
  const read: Partial<Record<SettingName, SettingValue>> = {};
  for (const name of SETTING_NAMES) {
    if (name !== "DMX_START_ADDRESS" && !supported.includes(PARAMETERS[name].pid)) continue;
    const value = yield* ACCESS[name].read(inquiry);
    if (value !== undefined) read[name] = value;
  }
  return read;
}

/** One setting that is not as it was. */
export interface ChangedSetting {
  readonly name: SettingName;
  readonly was: SettingValue;
  readonly is: SettingValue;
}

/** What differs between two readings, of all settings that both have. */
export const changedSettings = (was: FixtureSettings, is: FixtureSettings): readonly ChangedSetting[] =>
  SETTING_NAMES.flatMap((name) => {
    const [before, now] = [was[name], is[name]];
    return before === undefined || now === undefined || before === now ? [] : [{ name, was: before, is: now }];
  });

/**
 * Sets each changed setting to what it was, and reads it back. Gives a sentence for every one that was not taken; the mode
 * comes first, since it may move the address.
 */
export function* writeBack(uid: Uid, changes: readonly ChangedSetting[]): Dialogue<readonly string[]> {
  const troubles: string[] = [];
  const modeFirst = [...changes].sort(
    (a, b) => Number(b.name === "DMX_PERSONALITY") - Number(a.name === "DMX_PERSONALITY"),
  );
  for (const { name, was } of modeFirst) {
    const trouble = yield* ACCESS[name].write(uid, was);
    const inquiry = new Inquiry(uid);
    const is = trouble === undefined ? yield* ACCESS[name].read(inquiry) : undefined;
    if (trouble !== undefined) troubles.push(trouble);
    else if (is !== was)
      troubles.push(
        `${name}: ${is === undefined ? "could not be read back" : `still ${is} after it was set to ${was}`}`,
      );
  }
  return troubles;
}

/** Sets the start address and reads it back; undefined when it is as wanted, else why not. `address` is 1 to 512. */
export function* setAddress(uid: Uid, address: number): Dialogue<string | undefined> {
  const trouble = troubleWith(PARAMETERS.DMX_START_ADDRESS, yield* put(uid, PARAMETERS.DMX_START_ADDRESS, address));
  if (trouble !== undefined) return trouble;
  const read = yield* ask(uid, PARAMETERS.DMX_START_ADDRESS, undefined);
  if (read.kind !== "value") return troubleWith(PARAMETERS.DMX_START_ADDRESS, read);
  return read.value === address ? undefined : `DMX_START_ADDRESS: still ${read.value} after it was set to ${address}`;
}

/** A setting in words: "off", "on", or the value itself. */
export const settingText = (name: SettingName, value: SettingValue): string => {
  const isSwitch = /INVERT$|SWAP$|SELF_TEST$/.test(name) && name !== "DISPLAY_INVERT";
  return isSwitch ? (value === 1 ? "on" : "off") : value === "" ? "none" : String(value);
};

/** A parameter that only the maker knows, as the fixture itself describes it. */
export interface OwnParameter {
  /** 8000 to FFDF, hexadecimal. */
  readonly pid: number;
  readonly words: string;
  /** The value as it is shown; undefined where it cannot be read. */
  readonly value: string | undefined;
}

/** Numbers that are the makers' own (ANSI E1.20, secondary). */
const isOwn = (pid: number): boolean => pid >= 0x8000 && pid <= 0xffdf;
/** How many are asked about at most. */
const MOST = 40;

/**
 * Asks a fixture to describe what is its maker's own, and reads what can be read. What it does not describe is left out.
 * `supported` are the 16-bit numbers of all parameters that the fixture says it knows.
 */
export function* readOwnParameters(inquiry: Inquiry, supported: readonly number[]): Dialogue<readonly OwnParameter[]> {
  const told: OwnParameter[] = [];
  for (const pid of supported.filter(isOwn).slice(0, MOST)) {
    const before = inquiry.troubles.length;
    const described = yield* inquiry.read(PARAMETERS.PARAMETER_DESCRIPTION, pid);
    inquiry.troubles.length = before;
    if (!described) continue;
    const bytes =
      described.commands & GET ? yield* inquiry.read({ pid, asks: NOTHING, answers: RAW }, undefined) : undefined;
    inquiry.troubles.length = before;
    told.push({ pid, words: described.text, value: bytes && valueText(bytes, described.data) });
  }
  return told;
}

/** "Command class" of a description: bit 0 it can be read, bit 1 it can be set (from memory). */
const GET = 1;

const NOTHING: Layout<undefined> = { read: () => undefined, write: () => new Uint8Array(0), expects: "nothing" };
const RAW: Layout<Uint8Array> = { read: (bytes) => bytes, write: (bytes) => bytes, expects: "any bytes" };

/** Data types of ANSI E1.20 (from memory): text, and numbers of one, two and four bytes, each without and with a sign. */
const TEXT = 2;
const NUMBERS: Readonly<Record<number, (view: DataView) => number>> = {
  3: (view) => view.getUint8(0),
  4: (view) => view.getInt8(0),
  5: (view) => view.getUint16(0),
  6: (view) => view.getInt16(0),
  7: (view) => view.getUint32(0),
  8: (view) => view.getInt32(0),
};
const SIZES: Readonly<Record<number, number>> = { 3: 1, 4: 1, 5: 2, 6: 2, 7: 4, 8: 4 };

/** A number or a text as its description says; else its bytes. */
const valueText = (bytes: Uint8Array, data: number): string => {
  const size = SIZES[data];
  if (size === bytes.length) return String(NUMBERS[data]?.(new DataView(bytes.buffer, bytes.byteOffset, size)));
  if (data === TEXT)
    return [...bytes].map((byte) => (byte >= 0x20 && byte <= 0x7e ? String.fromCharCode(byte) : "?")).join("");
  return [...bytes].map((byte) => byte.toString(16).toUpperCase().padStart(2, "0")).join(" ");
};
