import { COUNTER_NAMES, COUNTER_WORDS, type FixtureReading } from "../wire/rdm/fixture.ts";
import { modeInWords } from "../wire/rdm/roster.ts";
import { sensorText } from "../wire/rdm/sensors.ts";
import { SETTING_NAMES, SETTING_WORDS, settingText } from "../wire/rdm/settings.ts";
import { statusText } from "../wire/rdm/status.ts";

/** Everything that one fixture says of itself, line by line. A fixture believes what it does not measure. */
export const readingText = (reading: FixtureReading): readonly string[] => {
  const { identity, counters, settings, sensors, status, slots, selfTests, lampState } = reading;
  const names = sensors.map(({ name }) => name);
  return [
    `${identity.maker} ${identity.model}`.trim() || "says no model",
    ...field("UID", identity.uid),
    ...field("serial number", identity.serial),
    ...field("software", identity.software),
    ...field("mode", modeInWords(identity)),
    ...COUNTER_NAMES.flatMap((name) => field(COUNTER_WORDS[name], counters[name])),
    ...field("lamp", lampState === undefined ? undefined : (LAMP_STATES[lampState] ?? `state ${lampState}`)),
    ...SETTING_NAMES.flatMap((name) => {
      const value = settings[name];
      return name === "DMX_PERSONALITY" || value === undefined
        ? []
        : field(SETTING_WORDS[name], settingText(name, value));
    }),
    ...part("SENSORS", sensors.map(sensorText)),
    ...part(
      "IT REPORTS",
      status.map((one) => statusText(one, slots, names)),
    ),
    ...part(
      "ITS OWN TESTS",
      selfTests.map(({ number, words }) => `${number}: ${words}`),
    ),
    ...part("NOT READ", identity.troubles),
    ...(status.length === 0 ? ["It reports nothing wrong. A fixture cannot report what it does not measure."] : []),
  ];
};

const field = (words: string, value: string | number | undefined): readonly string[] =>
  value === undefined || value === "" ? [] : [`  ${words}: ${value}`];
const part = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : [title, ...lines.map((line) => `  - ${line}`)];

const LAMP_STATES: Readonly<Record<number, string>> = {
  0: "off",
  1: "on",
  2: "striking",
  3: "standby",
  4: "not fitted",
  127: "error",
};
