import { basename } from "node:path";
import { hintFor } from "../problem/nearest.ts";
import { bad, good, type Problem, problem, type Result } from "../problem/problem.ts";
import { safeText } from "../problem/terminal.ts";
import { descriptionIn, MOST_PACKED } from "../profile/gdtf/archive.ts";
import type { Element } from "../profile/gdtf/element.ts";
import { importMode } from "../profile/gdtf/import-mode.ts";
import { type Imported, profileFrom } from "../profile/gdtf/profile-from.ts";
import { type Description, readFixture } from "../profile/gdtf/read-fixture.ts";
import { modeName, readMode } from "../profile/gdtf/read-mode.ts";
import { hanging } from "../report/wrap.ts";
import { readBytes } from "../shelf/outside.ts";
import { functionWords } from "../trade/functions.ts";
import { deliver } from "./deliver.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { complain, print, refuse } from "./print.ts";

export interface ImportOrder {
  readonly file: string;
  readonly mode: string | undefined;
  /** Undefined: to the standard output. */
  readonly out: string | undefined;
}

/** Reads a maker's GDTF file: lists its modes, or makes a profile of one and tells what of it was not understood. */
export const importProfile = ({ file, mode, out }: ImportOrder): ExitCode => {
  const description = readGdtf(file);
  if (!description.ok) return refuse(description.problems);
  if (mode === undefined) return listModes(description.value);
  const element = modeCalled(description.value, mode);
  if (!element.ok) return refuse(element.problems);
  const imported = profileFrom(basename(file), description.value, element.value);
  if (!imported.ok) return refuse(imported.problems);
  tellNotes(imported.value);
  return deliver(imported.value.text, out);
};

const readGdtf = (file: string): Result<Description> => {
  const read = readBytes(file, MOST_PACKED);
  if (read.kind === "unread") return bad(problem(file, read.why));
  const text = descriptionIn(file, read.bytes);
  return text.ok ? readFixture(`${file}, description.xml`, text.value) : text;
};

const modeCalled = ({ fixture }: Description, name: string): Result<Element> => {
  const found = fixture.modes.find((mode) => modeName(mode) === name);
  return found
    ? good(found)
    : bad(problem(name, "there is no mode of this name", hintFor(name, fixture.modes.map(modeName))));
};

const listModes = (description: Description): ExitCode => {
  const { name, modes } = description.fixture;
  print(
    `${safeText(name)}, ${modes.length === 1 ? "1 mode" : `${modes.length} modes`}; --mode NAME makes a profile of one.`,
  );
  for (const mode of modes)
    print(["", safeText(modeName(mode)), ...hanging("  ", modeWords(description, mode), WIDTH)].join("\n"));
  return EXIT.done;
};

const WIDTH = 79;

const modeWords = (description: Description, element: Element): string => {
  const mode = readMode(description, element);
  if (!mode.ok) return `cannot be read: ${firstOf(mode.problems)}`;
  const functions = [...importMode(description, mode.value).functions.keys()].map(functionWords);
  return `${mode.value.slots} slots: ${functions.length > 0 ? functions.join(", ") : "nothing that Limber drives"}`;
};

const firstOf = (problems: readonly Problem[]): string => {
  const more = problems.length > 1 ? `, and ${problems.length - 1} more` : "";
  return `${problems[0] ? lineOf(problems[0]) : ""}${more}`;
};

const tellNotes = ({ notes }: Imported): void => {
  if (notes.length > 0) complain(`Not understood, or not driven (${notes.length}):`);
  for (const note of notes) complain(`  ${lineOf(note)}`);
};

const lineOf = ({ source, place, message }: Problem): string =>
  safeText(`${source}${place ? `:${place.line}` : ""}: ${message}`);
