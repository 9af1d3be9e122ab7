import type { Profile } from "../data/profile/profile.ts";
import { startInWords } from "../data/rack/rack.ts";
import { entryText, inYaml, newRackText } from "../data/rack/write.ts";
import { firstCharacters } from "../domain/problem/shown-text.ts";
import { COUNTER_NAMES, COUNTER_WORDS, type FixtureReading, sensorText } from "../wire/rdm/fixture.ts";
import { type FoundFixture, modeInWords, type Roster, type RosterRow } from "../wire/rdm/roster.ts";
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

/**
 * A rack file of what was found, with addresses and UIDs as they are set. Where each one stands nobody knows yet, and the
 * profile is the first on the shelf that has as many slots: both are marked to be looked at.
 */
export const rackFromFound = (found: readonly FoundFixture[], kinds: readonly Profile[], name: string): string =>
  newRackText({
    name,
    title: `${found.length} fixtures, found over RDM`,
    universes: found.map(({ universe }) => universe),
    remark: "say where each one stands",
    entries: found.map((one, index) => entryOf(one, index, kinds)),
  });

const entryOf = ({ universe, identity }: FoundFixture, index: number, kinds: readonly Profile[]): string => {
  const { uid, serial, address, mode, model } = identity;
  const named = (kind: Profile) => model !== "" && [kind.name, kind.fixture, kind.title].includes(model);
  const alike = kinds.filter(({ slots }) => slots === mode?.slots).sort((a, b) => Number(named(b)) - Number(named(a)));
  const [first] = alike;
  const entry = entryText([
    ["serial", inYaml(serial === "" ? uid : serial)],
    ["uid", inYaml(uid)],
    ["profile", first?.name ?? "none-of-these-slots"],
    ["shelf", inYaml("not said")],
    ["place", inYaml(`number ${index + 1}`)],
    ["universe", String(universe)],
    ["address", String(address ?? 1)],
  ]);
  const others =
    alike.length > 1
      ? `, or ${alike
          .slice(1)
          .map(({ name }) => name)
          .join(", ")}`
      : "";
  const says = commentText(`says: ${model || "no model"}, ${mode?.slots ?? "?"} slots${others}`);
  return `${entry}   # ${says}`;
};

/** What a fixture says stands in a comment, where it can end no line and begin no key. */
const commentText = (words: string): string => firstCharacters(words.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}#]/gu, " "), 100);
