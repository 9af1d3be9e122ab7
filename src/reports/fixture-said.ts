import { symptomWords } from "../domain/trade/symptoms.ts";
import type { BodyOf } from "../run/events/event.ts";
import type { FixtureSaid } from "../run/events/fixture-said.ts";
import { statusLink } from "../run/events/said-symptoms.ts";
import type { RunView } from "../run/events/view.ts";
import { COUNTER_NAMES, COUNTER_WORDS, sensorText } from "../wire/rdm/fixture.ts";
import type { StatusMessage } from "../wire/rdm/parameters.ts";
import { changedSettings, SETTING_WORDS, settingText } from "../wire/rdm/settings.ts";
import { statusText } from "../wire/rdm/status.ts";

/** What the fixture said of itself in a run, a sentence each: the latest of what it was asked more than once. */
export const saidInWords = ({ said, followed }: RunView): readonly string[] => {
  const [first, last] = [said[0], said.at(-1)];
  if (!first || !last) return [];
  const names = last.sensors.map(({ name }) => name);
  return [
    [`${last.maker} ${last.model}`.trim(), `software ${last.software}`, last.uid].join(", "),
    ...countersInWords(last),
    ...switchedOn(last),
    ...changedSettings(first.settings, last.settings).map(
      ({ name, was, is }) =>
        `${SETTING_WORDS[name]} changed meanwhile from ${settingText(name, was)} to ${settingText(name, is)}`,
    ),
    ...last.sensors.map((sensor) =>
      sensorText({ ...sensor, normal: { from: sensor.normal.from, to: sensor.normal.to } }),
    ),
    ...last.status.map((one) => `it reports: ${statusText(one, last.slots, names)}${countsAs(one)}`),
    ...(last.status.length === 0 ? ["it reports nothing wrong; it cannot report what it does not measure"] : []),
    ...last.troubles.map((words) => `not read: ${words}`),
    ...sensorsDrawn(last, followed),
  ];
};

/** What the report is taken for by the fault model, and on whose word. */
const countsAs = (message: StatusMessage): string => {
  const found = statusLink(message);
  return found ? `; taken for "${symptomWords(found.symptom)}", ${found.because} (${found.origin})` : "";
};

const countersInWords = ({ counters }: FixtureSaid): readonly string[] => {
  const told = COUNTER_NAMES.flatMap((name) =>
    counters[name] === undefined ? [] : [`${COUNTER_WORDS[name]} ${counters[name]}`],
  );
  return told.length > 0 ? [told.join(", ")] : [];
};

/** What a hirer switches on and nobody expects. */
const switchedOn = ({ settings }: FixtureSaid): readonly string[] =>
  (["PAN_INVERT", "TILT_INVERT", "PAN_TILT_SWAP"] as const).flatMap((name) =>
    settings[name] === 1 ? [`set in its menu: ${SETTING_WORDS[name]}`] : [],
  );

const CELLS = " .:-=+*#";
const MOST_CELLS = 40;

/**
 * Every sensor that was followed, drawn from its lowest to its highest value: "Head over 20 min, 31 to 66 C: ..::--==+**#".
 */
export const sensorsDrawn = (said: FixtureSaid, followed: readonly BodyOf<"sensors-followed">[]): readonly string[] => {
  const [first, last] = [followed[0], followed.at(-1)];
  if (!first || !last || followed.length < 2) return [];
  const minutes = Math.round((last.lit_min - first.lit_min) * 10) / 10;
  return said.sensors.flatMap(({ number, name, unit }) => {
    const values = valuesOf(number, followed);
    if (values.length < 2) return [];
    const [low, high] = [Math.min(...values), Math.max(...values)];
    const where = low === high ? `${low} ${unit}`.trim() : `${low} to ${high} ${unit}`.trim();
    return [`${name} over ${minutes} min, ${where}: ${sensorDrawn(number, followed)}`];
  });
};

const valuesOf = (sensor: number, followed: readonly BodyOf<"sensors-followed">[]): readonly number[] =>
  followed.flatMap((one) => one.values.filter(({ number }) => number === sensor).map(({ value }) => value));

/**
 * How one sensor went, drawn from its lowest to its highest value: "[..::--==+**#]"; empty until it was asked twice.
 * `sensor` is its number in the fixture, counted from 0.
 */
export const sensorDrawn = (sensor: number, followed: readonly BodyOf<"sensors-followed">[]): string => {
  const values = valuesOf(sensor, followed);
  return values.length < 2 ? "" : `[${drawn(values)}]`;
};

const drawn = (values: readonly number[]): string => {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const cells = Math.min(MOST_CELLS, values.length);
  return Array.from({ length: cells }, (_, cell) => {
    const value = values[Math.floor((cell * values.length) / cells)] ?? low;
    const share = high === low ? 0.5 : (value - low) / (high - low);
    return CELLS[Math.min(CELLS.length - 1, Math.floor(share * CELLS.length))] ?? " ";
  }).join("");
};
