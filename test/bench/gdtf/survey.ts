import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gdtfIn } from "../../../src/app/profile/profile-import.ts";
import type { Description } from "../../../src/data/profile/gdtf/description.ts";
import type { Element } from "../../../src/data/profile/gdtf/element.ts";
import { type Imported, profileFrom } from "../../../src/data/profile/gdtf/profile-from.ts";
import { childrenOf } from "../../../src/data/profile/gdtf/reading.ts";
import { lint } from "../../../src/data/profile/lint/lint.ts";
import { readProfile } from "../../../src/data/profile/parse.ts";
import type { Problem } from "../../../src/domain/problem/problem.ts";
import { type Row, row } from "../line/row.ts";

/** A mode of a file, what the file's own attributes say of it, and what became of it. */
interface Surveyed {
  readonly movingHead: boolean;
  /** Some slot of it is a dimmer, a shutter or an emitter by its attribute: told from the file alone, apart from the importer. */
  readonly canGoDark: boolean;
  readonly imported: Imported | undefined;
  readonly refused: string | undefined;
  readonly checked: boolean;
}

/**
 * Surveys a folder of GDTF files (archives, or descriptions as .xml) that the user names: how many modes become a profile, why
 * the others do not, and what becomes of their slots. No such file is shipped.
 */
export const surveyBench = (folder: string | undefined): readonly Row[] => {
  if (folder === undefined)
    throw new Error("name a folder of GDTF files: npm run bench -- gdtf-survey --folder FOLDER");
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) =>
    /\.(gdtf|xml)$/i.test(name),
  );
  const unread: string[] = [];
  const modes = files.flatMap((name): readonly Surveyed[] => {
    const read = gdtfIn(name, readFileSync(join(folder, name)));
    if (read.ok)
      return read.value.description.fixture.modes.map((mode) => surveyed(name, read.value.description, mode));
    unread.push(firstOf(read.problems));
    return [];
  });
  return [
    row("files", "files", files.length),
    row("files that cannot be opened", "files", unread.length),
    ...counted(unread).map(([why, count]) => row(`  ${why}`, "files", count)),
    ...shareRows("modes", modes),
    ...shareRows(
      "modes that have a way to go dark",
      modes.filter(({ canGoDark }) => canGoDark),
    ),
    ...shareRows(
      "modes of moving heads",
      modes.filter(({ movingHead }) => movingHead),
    ),
    ...counted(modes.flatMap(({ refused }) => refused ?? [])).map(([why, count]) =>
      row(`  refused: ${why}`, "modes", count),
    ),
    row(
      "written profiles that the profile check takes",
      "%",
      share(
        modes.filter((one) => one.imported),
        (one) => one.checked,
      ),
    ),
    ...slotRows("all modes", modes),
    ...slotRows(
      "moving heads",
      modes.filter(({ movingHead }) => movingHead),
    ),
  ];
};

const surveyed = (file: string, description: Description, mode: Element): Surveyed => {
  const attributes = attributesOf(mode);
  const made = profileFrom({ file, description, mode, name: undefined });
  const imported = made.ok ? made.value : undefined;
  return {
    movingHead: attributes.includes("Pan") && attributes.includes("Tilt"),
    canGoDark: attributes.some((name) => /^(Dimmer|Shutter\d*$|ColorAdd_|ColorRGB_(Red|Green|Blue))/.test(name)),
    imported,
    refused: made.ok ? undefined : firstOf(made.problems),
    checked: imported !== undefined && isTaken(imported),
  };
};

/** Of the channels that have a slot. */
const attributesOf = (mode: Element): readonly string[] =>
  childrenOf(mode, "DMXChannels", "DMXChannel")
    .filter(({ attributes }) => !["", "None", undefined].includes(attributes.get("Offset") ?? attributes.get("Coarse")))
    .flatMap((channel) => childrenOf(channel, "LogicalChannel"))
    .flatMap((logical) => [logical, ...childrenOf(logical, "ChannelFunction")])
    .flatMap(({ attributes }) => attributes.get("Attribute") ?? []);

const isTaken = ({ name, text }: Imported): boolean => {
  const read = readProfile(`${name}.yaml`, text);
  return read.ok && lint(read.value).length === 0;
};

/** Alike but for their numbers and names. */
const firstOf = ([first]: readonly Problem[]): string =>
  (first?.message ?? "").replace(/"[^"]*"/g, '"..."').replace(/\d+/g, "n");

const counted = (words: readonly string[]): readonly (readonly [string, number])[] => {
  const counts = new Map<string, number>();
  for (const one of words) counts.set(one, (counts.get(one) ?? 0) + 1);
  return [...counts].sort(([, a], [, b]) => b - a);
};

const share = <T>(all: readonly T[], is: (one: T) => boolean): number =>
  all.length === 0 ? Number.NaN : (100 * all.filter(is).length) / all.length;

const shareRows = (name: string, modes: readonly Surveyed[]): readonly Row[] => [
  row(name, "modes", modes.length),
  row(
    `${name}: became a profile`,
    "%",
    share(modes, ({ imported }) => imported !== undefined),
  ),
];

const slotRows = (name: string, modes: readonly Surveyed[]): readonly Row[] => {
  const made = modes.flatMap(({ imported }) => imported ?? []);
  const shareOf = (count: (one: Imported["coverage"]) => number): readonly number[] =>
    made.map(({ coverage }) => (100 * count(coverage)) / coverage.slots).sort((a, b) => a - b);
  const accounted = shareOf(({ driven, held }) => driven + held);
  return [
    row(
      `${name}: slots driven, median`,
      "%",
      at(
        shareOf(({ driven }) => driven),
        0.5,
      ),
    ),
    row(`${name}: slots driven, or held with a reason, least`, "%", at(accounted, 0)),
    row(
      `${name}: with at least 90 % driven or held with a reason`,
      "%",
      share(accounted, (one) => one >= 90),
    ),
    row(
      `${name}: values to measure, median`,
      "values",
      at(
        made.map(({ toMeasure }) => toMeasure).sort((a, b) => a - b),
        0.5,
      ),
    ),
  ];
};

const at = (sorted: readonly number[], part: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? Number.NaN;
