import { descriptionIn } from "../../../../../src/data/profile/gdtf/archive.ts";
import { readFixtureType } from "../../../../../src/data/profile/gdtf/description.ts";
import { type Imported, profileFrom } from "../../../../../src/data/profile/gdtf/profile-from.ts";
import { modeName } from "../../../../../src/data/profile/gdtf/read-mode.ts";
import { parseProfile } from "../../../../../src/data/profile/parse.ts";
import type { Profile } from "../../../../../src/data/profile/profile.ts";
import { bad, type Problem, type Result, tellProblems } from "../../../../../src/domain/problem/problem.ts";
import { must } from "../../../../kit/shipped.ts";
import { archiveOf, channelOf, descriptionOf, modeOf } from "./gdtf.ts";

/** What comes of a GDTF archive: the profile of a mode, or what is wrong. */
export const importOf = (archive: Uint8Array, mode?: string): Result<Imported> => {
  const text = descriptionIn("sample.gdtf", archive);
  if (!text.ok) return text;
  const description = readFixtureType("description.xml", text.value.text);
  if (!description.ok) return description;
  const element = description.value.fixture.modes.find((one) => mode === undefined || modeName(one) === mode);
  return element
    ? profileFrom({ file: "sample.gdtf", description: description.value, mode: element, name: undefined })
    : bad();
};

/** The profile of a mode of these channels; a dimmer is there, so that it can go dark. */
export const profileOf = (
  ...channels: readonly string[]
): { readonly profile: Profile; readonly notes: readonly string[]; readonly text: string } => {
  const { text, notes } = must(importOf(archiveOf(description(channels))));
  const told = notes.map(({ message }) => message);
  return {
    profile: must(parseProfile("imported.yaml", text)),
    notes: told,
    text,
  };
};
export const toldOf = (archive: Uint8Array): string => {
  const imported = importOf(archive);
  return imported.ok ? "" : tellProblems(imported.problems);
};

export const problemsOf = (archive: Uint8Array, mode?: string): readonly Problem[] => {
  const imported = importOf(archive, mode);
  return imported.ok ? [] : imported.problems;
};

const description = (channels: readonly string[]): string =>
  descriptionOf(modeOf("One", [...channels, dimmerBehind(channels)].join("\n")), { wheels: WHEELS });

/** On the first slot behind all others. */
const dimmerBehind = (channels: readonly string[]): string => {
  const slots = [...channels.join("").matchAll(/(?:Offset|Coarse|Fine)="([\d,\s]+)"/g)].flatMap(([, list]) =>
    (list ?? "").split(",").map(Number),
  );
  return channelOf(String(Math.max(0, ...slots) + 1), "Dimmer", `<ChannelFunction Attribute="Dimmer"/>`);
};
const WHEELS = `<Wheel Name="W"><Slot Name="Open"/><Slot Name="Red"/><Slot Name="Blue"/></Wheel>`;
