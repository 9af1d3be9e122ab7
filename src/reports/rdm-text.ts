import { startInWords } from "../data/rack/rack.ts";
import { COUNTER_NAMES, COUNTER_WORDS, type FixtureReading } from "../wire/rdm/fixture.ts";
import { modeInWords, type Roster, type RosterRow } from "../wire/rdm/roster.ts";
import { sensorText } from "../wire/rdm/sensors.ts";
import { SETTING_NAMES, SETTING_WORDS, settingText } from "../wire/rdm/settings.ts";
import { statusText } from "../wire/rdm/status.ts";
import { hanging, padded } from "./wrap.ts";

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

const WIDTH = 79;

/**
 * Who answered on which universe, and what is not as it should be. `universes` are the numbers of the
 * universes that were searched, from 1.
 */
export const rosterText = (roster: Roster, universes: readonly number[], hasRack: boolean): readonly string[] => {
  const parts = universes.flatMap((universe) =>
    universePart(
      roster.rows.filter((row) => row.universe === universe),
      universe,
    ),
  );
  const wrong = roster.rows.flatMap((row) => row.wrong.map((words) => `${nameOf(row)}: ${words}`));
  const strangers = hasRack ? roster.rows.filter(({ fixture }) => !fixture) : [];
  const look = [
    ...wrong,
    ...strangers.map((row) => `${nameOf(row)}: is not in the rack file.`),
    ...roster.missing.map(({ serial, start }) => `${serial}: nobody answered for it (${startInWords(start)}).`),
  ];
  const end = look.length > 0 ? ["TO LOOK AT", ...look.flatMap((words) => hanging("  - ", words, WIDTH))] : [];
  const right = hasRack && look.length === 0 ? ["Addresses and modes are as the rack file says."] : [];
  return [...parts, ...end, ...right];
};

const universePart = (rows: readonly RosterRow[], universe: number): readonly string[] => {
  const count = rows.length === 1 ? "1 fixture answers" : `${rows.length} fixtures answer`;
  const byAddress = [...rows].sort((a, b) => (a.identity.address ?? 0) - (b.identity.address ?? 0));
  return [`UNIVERSE ${universe}: ${count}`, ...byAddress.flatMap(rowLines), ""];
};

/** Two lines each: where it listens and who it is; then what it says of itself. */
const rowLines = (row: RosterRow): readonly string[] => {
  const { identity } = row;
  const mark = row.wrong.length > 0 ? "!" : " ";
  const itself = [identity.maker, identity.model].filter((words) => words !== "").join(" ") || "says no model";
  const more = [
    itself,
    ...(identity.software === "" ? [] : [`software ${identity.software}`]),
    ...(identity.label === "" ? [] : [`label "${identity.label}"`]),
  ].join(", ");
  return [
    `${mark} ${padded(slotsInWords(row), 9)}${padded(nameOf(row), 16)}${padded(identity.uid, 15)}mode ${modeInWords(identity)}`.trimEnd(),
    `             ${more}`,
  ];
};

const slotsInWords = ({ identity: { address, mode } }: RosterRow): string => {
  if (address === undefined) return "no slots";
  return mode && mode.slots > 1 ? `${address}-${address + mode.slots - 1}` : String(address);
};

/** The serial number of the rack file, else the one it gives itself, else its UID. */
const nameOf = ({ fixture, identity }: RosterRow): string => fixture?.serial ?? (identity.serial || identity.uid);
