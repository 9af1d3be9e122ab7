import { z } from "zod";
import { COUNTER_NAMES, type FixtureReading } from "../../wire/rdm/fixture.ts";
import { SETTING_NAMES } from "../../wire/rdm/settings.ts";
import { text } from "./text.ts";

/** What may be written of what a fixture said of itself, over RDM. It is the fixture's own word, and is kept as that. */

const count = z.int().nonnegative();

const sensor = z.strictObject({
  number: count,
  name: text,
  kind: z.enum(["temperature", "voltage", "current", "speed", "other"]),
  unit: text,
  scale: z.number(),
  value: z.number(),
  lowest: z.number(),
  highest: z.number(),
  normal: z.strictObject({ from: z.number().optional(), to: z.number().optional() }),
});

/** Everything that it was asked for at once. */
const fixtureSaid = z.strictObject({
  kind: z.literal("fixture-said"),
  uid: text,
  maker: text,
  model: text,
  label: text,
  software: text,
  serial: text,
  address: count.optional(),
  mode: z.strictObject({ number: count, count, name: text, slots: count }).optional(),
  counters: z.partialRecord(z.enum(COUNTER_NAMES), count),
  settings: z.partialRecord(z.enum(SETTING_NAMES), z.union([z.number(), text])),
  sensors: z.array(sensor),
  status: z.array(z.strictObject({ subDevice: count, type: count, id: count, data1: z.int(), data2: z.int() })),
  slots: z.array(z.strictObject({ offset: count, type: count, label: count })),
  lamp_state: count.optional(),
  self_tests: z.array(z.strictObject({ number: count, words: text })),
  /** What could not be read or believed, a sentence each. */
  troubles: z.array(text),
});

/** Sensors asked again while it was at work: their values by number, and the minutes since the light came on. */
const sensorsFollowed = z.strictObject({
  kind: z.literal("sensors-followed"),
  uid: text,
  lit_min: z.number().nonnegative(),
  values: z.array(z.strictObject({ number: count, value: z.number() })),
});

export const FIXTURE_SAID_BODIES = [fixtureSaid, sensorsFollowed] as const;
export type FixtureSaid = z.infer<typeof fixtureSaid>;

/** Whether these hours were said by the fixture itself, so that nobody has to type them. */
export const isFixtures = ({
  reading,
  source,
}: {
  readonly reading: string;
  readonly source?: "fixture" | undefined;
}): boolean => reading === "source-hours" && source === "fixture";

/** What a fixture said of itself, as the journal keeps it. */
export const saidBody = (reading: FixtureReading): FixtureSaid => {
  const { identity, counters, settings, sensors, status, slots, lampState, selfTests } = reading;
  const { uid, maker, model, label, software, serial, address, mode, troubles } = identity;
  return {
    kind: "fixture-said",
    ...{ uid, maker, model, label, software, serial },
    ...(address === undefined ? {} : { address }),
    ...(mode === undefined ? {} : { mode }),
    counters,
    settings,
    sensors: sensors.map(({ normal: { from, to }, ...rest }) => ({
      ...rest,
      normal: { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) },
    })),
    status: status.map((one) => ({ ...one })),
    slots: slots.map((one) => ({ ...one })),
    ...(lampState === undefined ? {} : { lamp_state: lampState }),
    self_tests: selfTests.map((one) => ({ ...one })),
    troubles: [...troubles],
  };
};
