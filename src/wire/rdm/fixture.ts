import type { Dialogue } from "./dialogue.ts";
import { type FixtureIdentity, Inquiry, readIdentity } from "./identity.ts";
import type { Uid } from "./packet.ts";
import { PARAMETERS, type ParameterName, type StatusMessage } from "./parameters.ts";
import { readSensors, type SensorReading } from "./sensors.ts";
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
