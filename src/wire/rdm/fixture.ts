import type { Dialogue } from "./dialogue.ts";
import { type FixtureIdentity, Inquiry, readIdentity } from "./identity.ts";
import type { Uid } from "./packet.ts";
import { PARAMETERS, type ParameterName, type StatusMessage } from "./parameters.ts";
import { type FixtureSettings, readSettings } from "./settings.ts";
import type { SlotReading } from "./status.ts";

/** Numbers that only ever rise, unless a board was changed. */
export const COUNTER_NAMES = [
  "DEVICE_HOURS",
  "LAMP_HOURS",
  "LAMP_STRIKES",
  "DEVICE_POWER_CYCLES",
] as const satisfies readonly ParameterName[];
export type CounterName = (typeof COUNTER_NAMES)[number];
export type FixtureCounters = { readonly [N in CounterName]?: number };

export const COUNTER_WORDS: Readonly<Record<CounterName, string>> = {
  DEVICE_HOURS: "device hours",
  LAMP_HOURS: "lamp hours",
  LAMP_STRIKES: "lamp strikes",
  DEVICE_POWER_CYCLES: "power cycles",
};

/** All that a fixture says of itself at a bench. */
export interface FixtureReading {
  readonly identity: FixtureIdentity;
  readonly counters: FixtureCounters;
  readonly settings: FixtureSettings;
  readonly sensors: readonly SensorReading[];
  readonly status: readonly StatusMessage[];
  readonly slots: readonly SlotReading[];
  /** 0 off, 1 on, 2 strikes, 3 standby, 4 no lamp, 7F error; undefined where it has none. */
  readonly lampState: number | undefined;
  readonly selfTests: readonly { readonly number: number; readonly words: string }[];
}

/** Status messages from this weight on: advice, warnings and errors. */
const FROM_ADVICE = 2;
const MOST_SELF_TESTS = 12;

/**
 * Reads everything that a fixture says of itself (ANSI E1.20, E1.37-1 and -5). Some forty requests: under a second
 * on a cable that carries nothing else.
 */
export function* readFixture(uid: Uid): Dialogue<FixtureReading> {
  const identity = yield* readIdentity(uid);
  const inquiry = new Inquiry(uid);
  const { supported } = identity;
  const knows = (name: ParameterName) => supported.includes(PARAMETERS[name].pid);
  const counters: Partial<Record<CounterName, number>> = {};
  for (const name of COUNTER_NAMES) {
    const count = knows(name) ? yield* inquiry.read(PARAMETERS[name], undefined) : undefined;
    if (count !== undefined) counters[name] = count;
  }
  const settings = yield* readSettings(inquiry, supported);
  const sensors = yield* readSensors(inquiry, identity.sensors);
  const status = knows("STATUS_MESSAGES") ? yield* inquiry.read(PARAMETERS.STATUS_MESSAGES, FROM_ADVICE) : [];
  const slots = knows("SLOT_INFO") ? yield* inquiry.read(PARAMETERS.SLOT_INFO, undefined) : [];
  const lampState = knows("LAMP_STATE") ? yield* inquiry.read(PARAMETERS.LAMP_STATE, undefined) : undefined;
  const selfTests = knows("SELF_TEST_DESCRIPTION") ? yield* readSelfTests(inquiry) : [];
  return {
    identity: { ...identity, troubles: [...identity.troubles, ...inquiry.troubles] },
    counters,
    settings,
    sensors,
    status: status ?? [],
    slots: slots ?? [],
    lampState,
    selfTests,
  };
}

/** Asks for self tests by number from 1 until one is refused: the standard has no count of them. */
function* readSelfTests(inquiry: Inquiry): Dialogue<FixtureReading["selfTests"]> {
  const tests: { readonly number: number; readonly words: string }[] = [];
  for (let number = 1; number <= MOST_SELF_TESTS; number += 1) {
    const refusals = inquiry.troubles.length;
    const test = yield* inquiry.read(PARAMETERS.SELF_TEST_DESCRIPTION, number);
    if (!test) {
      inquiry.troubles.length = refusals;
      break;
    }
    tests.push({ number, words: test.text });
  }
  return tests;
}

/** One sensor of a fixture, and what it shows now. */
export interface SensorReading {
  /** Counted from 0. */
  readonly number: number;
  readonly name: string;
  readonly kind: "temperature" | "voltage" | "current" | "speed" | "other";
  /** "C", "V", "rpm"; empty for none. */
  readonly unit: string;
  /** What a raw number is multiplied by. */
  readonly scale: number;
  readonly value: number;
  /** Lowest and highest since they were last reset. */
  readonly lowest: number;
  readonly highest: number;
  /** Where it is as it should be, as the fixture says; an end that it leaves open is undefined. */
  readonly normal: { readonly from: number | undefined; readonly to: number | undefined };
}

/** Reads definition and value of every sensor. `count` is how many sensors the fixture says it has, 0 to 255. */
function* readSensors(inquiry: Inquiry, count: number): Dialogue<readonly SensorReading[]> {
  const sensors: SensorReading[] = [];
  for (let number = 0; number < count && !inquiry.isGone; number += 1) {
    const about = yield* inquiry.read(PARAMETERS.SENSOR_DEFINITION, number);
    const now = about && (yield* inquiry.read(PARAMETERS.SENSOR_VALUE, number));
    if (!about || !now) continue;
    const scale = PREFIXES[about.prefix] ?? 1;
    const scaled = (value: number) => rounded(value * scale);
    const end = (value: number) => (value === NO_LEAST || value === NO_MOST ? undefined : scaled(value));
    sensors.push({
      number,
      name: about.text === "" ? `sensor ${number}` : about.text,
      kind: KINDS[about.type] ?? "other",
      unit: UNITS[about.unit] ?? "",
      scale,
      value: scaled(now.present),
      lowest: scaled(now.lowest),
      highest: scaled(now.highest),
      normal: { from: end(about.normalFrom), to: end(about.normalTo) },
    });
  }
  return sensors;
}

/** Reads the values of sensors again whose definitions are known. Those that do not answer are left out. */
export function* followSensors(inquiry: Inquiry, known: readonly SensorReading[]): Dialogue<readonly SensorReading[]> {
  const again: SensorReading[] = [];
  for (const sensor of known) {
    const now = yield* inquiry.read(PARAMETERS.SENSOR_VALUE, sensor.number);
    const scaled = (value: number) => rounded(value * sensor.scale);
    if (now)
      again.push({ ...sensor, value: scaled(now.present), lowest: scaled(now.lowest), highest: scaled(now.highest) });
  }
  return again;
}

/** Whether a sensor shows what it should, as far as its fixture says what that is. */
export const sensorState = ({ value, normal }: SensorReading): "normal" | "below" | "above" | "not said" => {
  if (normal.from !== undefined && value < normal.from) return "below";
  if (normal.to !== undefined && value > normal.to) return "above";
  return normal.from === undefined && normal.to === undefined ? "not said" : "normal";
};

/** A sensor with what it shows, in words: "Head 92 C, normal 5 to 85: above". */
export const sensorText = (sensor: SensorReading): string => {
  const { name, value, unit, normal } = sensor;
  const state = sensorState(sensor);
  const shown = `${name} ${value}${unit === "" ? "" : ` ${unit}`}`;
  if (state === "not said") return shown;
  return `${shown}, normal ${normal.from ?? "any"} to ${normal.to ?? "any"}${state === "normal" ? "" : `: ${state}`}`;
};

/** What stands for "not defined" in a range (ANSI E1.20). */
const NO_LEAST = -32_768;
const NO_MOST = 32_767;

/** Sensor types, units and powers of ten of ANSI E1.20; rpm and angular velocity are newer (secondary). */
const KINDS: Readonly<Record<number, SensorReading["kind"]>> = {
  0: "temperature",
  1: "voltage",
  2: "current",
  21: "speed",
};
const UNITS: Readonly<Record<number, string>> = { 1: "C", 2: "V", 3: "V AC", 7: "A", 35: "rpm" };
const PREFIXES: Readonly<Record<number, number>> = {
  0: 1,
  1: 1e-1,
  2: 1e-2,
  3: 1e-3,
  17: 10,
  18: 100,
  19: 1000,
};
const rounded = (value: number) => Math.round(value * 1000) / 1000;
