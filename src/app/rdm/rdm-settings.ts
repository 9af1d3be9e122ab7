import { randomBytes } from "node:crypto";
import { existsSync } from "node:fs";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import { readingText } from "../../reports/rdm-text.ts";
import { EVENT_VERSION } from "../../run/events/event.ts";
import { type FixtureSaid, saidBody } from "../../run/events/fixture-said.ts";
import { type FixtureReading, readFixture } from "../../wire/rdm/fixture.ts";
import { Inquiry } from "../../wire/rdm/identity.ts";
import {
  type ChangedSetting,
  changedSettings,
  type FixtureSettings,
  type OwnParameter,
  readOwnParameters,
  SETTING_NAMES,
  SETTING_WORDS,
  settingText,
  writeBack,
} from "../../wire/rdm/settings.ts";
import { complain, EXIT, type ExitCode, print } from "../common/output.ts";
import { openHere } from "../journal/with-journal.ts";
import { type AskedFixture, type RdmWhere, saysYes, withFixtureCalled } from "./rdm-find.ts";
import { inTalk } from "./survey.ts";

interface OneFixtureOptions extends RdmWhere {
  readonly journal: string;
  readonly person: string;
}

/** Prints everything that one fixture says of itself, and keeps it with its latest run where it has one. */
export const readOne = (name: string, options: OneFixtureOptions & { readonly json: boolean }): Promise<ExitCode> =>
  withFixture(name, options, async ({ fixture, reading }) => {
    const own = await inTalk(fixture.door, readOwnParameters(new Inquiry(fixture.uid), reading.identity.supported));
    const makers = typeof own === "string" ? [] : own;
    print(
      options.json
        ? JSON.stringify({ ...reading, own: makers }, undefined, 2)
        : [...readingText(reading), ...ownText(makers)].map(safeText).join("\n"),
    );
    if (!options.json) print(await keepSaid(options, fixture.serial, reading));
    return EXIT.done;
  });

/** What only the maker knows, as the fixture describes it. */
const ownText = (own: readonly OwnParameter[]): readonly string[] =>
  own.length === 0
    ? []
    : [
        "ITS MAKER'S OWN",
        ...own.map(
          ({ pid, words, value }) => `  - ${words || pid.toString(16).toUpperCase()}: ${value ?? "cannot be read"}`,
        ),
      ];

/**
 * Says which of a fixture's settings are not as they were when they were last kept; puts them
 * back after a yes, and reads them back.
 */
export const settingsOf = (name: string, options: OneFixtureOptions): Promise<ExitCode> =>
  withFixture(name, options, async ({ fixture, reading }) => {
    const before = await settingsBefore(options.journal, fixture.serial);
    if (!before) {
      print(settingLines(reading.settings).join("\n"));
      print(
        `\nNothing was saved of ${safeText(fixture.serial)} before. ${await keepSaid(options, fixture.serial, reading)}`,
      );
      return EXIT.done;
    }
    const changes = changedSettings(before.settings, reading.settings);
    if (changes.length === 0) {
      print(`All settings are as they were on ${before.at.slice(0, 10)}.`);
      return EXIT.done;
    }
    print(`Changed since ${before.at.slice(0, 10)}, by the previous hirer perhaps:`);
    for (const change of changes) print(`  - ${changeText(change)}`);
    return putBackAfterYes(fixture, changes);
  });

const putBackAfterYes = async (
  { serial, uid, door }: AskedFixture,
  changes: readonly ChangedSetting[],
): Promise<ExitCode> => {
  print("A changed mode, address or inversion may make the fixture move when levels are sent again: keep clear of it.");
  if (!(await saysYes(`Put ${changes.length === 1 ? "it" : `these ${changes.length}`} back in ${safeText(serial)}?`))) {
    print("Nothing was changed.");
    return EXIT.done;
  }
  const troubles = await inTalk(door, writeBack(uid, changes));
  if (typeof troubles === "string" || troubles.length > 0) {
    for (const words of [troubles].flat()) complain(safeText(words));
    return EXIT.world;
  }
  print("Put back, and read back as it was.");
  return EXIT.done;
};

/** "pan inverted: was off, is on". */
const changeText = ({ name, was, is }: ChangedSetting): string =>
  `${SETTING_WORDS[name]}: was ${safeText(settingText(name, was))}, is ${safeText(settingText(name, is))}`;

const settingLines = (settings: FixtureSettings): readonly string[] =>
  SETTING_NAMES.flatMap((name) => {
    const value = settings[name];
    return value === undefined ? [] : [`  ${SETTING_WORDS[name]}: ${safeText(settingText(name, value))}`];
  });

const settingsBefore = async (file: string, serial: string) => {
  if (!existsSync(file)) return undefined;
  const journal = await openHere(file);
  try {
    return await lastSaid(journal, serial);
  } finally {
    await journal.close();
  }
};

interface Here {
  readonly fixture: AskedFixture;
  readonly reading: FixtureReading;
}

/** Finds the fixture and reads all of it. */
const withFixture = (name: string, where: RdmWhere, work: (here: Here) => Promise<ExitCode>): Promise<ExitCode> =>
  withFixtureCalled(name, where, async (fixture) => {
    const reading = await inTalk(fixture.door, readFixture(fixture.uid));
    if (typeof reading !== "string") return work({ fixture, reading });
    complain(safeText(reading));
    return EXIT.world;
  });

/** What a fixture last said of itself, and when, as the journal has it; undefined where it never did. */
const lastSaid = async (
  journal: FileJournal,
  serial: string,
): Promise<(FixtureSaid & { readonly at: string }) | undefined> => {
  for (const { run } of (await journal.briefs({ kind: "fixture", serial })).toReversed()) {
    const said = (await journal.events(run)).findLast(({ body }) => body.kind === "fixture-said");
    if (said?.body.kind === "fixture-said") return { ...said.body, at: said.at };
  }
  return undefined;
};

/** Keeps a reading with the latest run of this serial number; says where, or that there is no such run. */
const keepSaid = async (
  { journal: file, person }: { readonly journal: string; readonly person: string },
  serial: string,
  reading: FixtureReading,
): Promise<string> => {
  const nowhere = "It is not saved: this serial number has no run in the journal yet.";
  if (!existsSync(file)) return nowhere;
  const journal = await openHere(file);
  try {
    const last = (await journal.briefs({ kind: "fixture", serial })).at(-1);
    if (!last) return nowhere;
    const { run, bench } = last;
    const id = `${run}-said-${randomBytes(6).toString("hex")}`;
    const at = new Date().toISOString();
    await journal.append({ id, v: EVENT_VERSION, bench, person, at, run, body: saidBody(reading) });
    return `Saved with run ${run}.`;
  } finally {
    await journal.close();
  }
};
