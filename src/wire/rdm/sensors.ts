import type { Dialogue } from "./dialogue.ts";
import type { Inquiry } from "./identity.ts";
import { PARAMETERS } from "./parameters.ts";

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
export function* readSensors(inquiry: Inquiry, count: number): Dialogue<readonly SensorReading[]> {
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
