import { basename } from "node:path";
import { descriptionIn, MOST_PACKED } from "../../data/profile/gdtf/archive.ts";
import type { Element } from "../../data/profile/gdtf/element.ts";
import { importMode } from "../../data/profile/gdtf/import-mode.ts";
import { type Imported, profileFrom } from "../../data/profile/gdtf/profile-from.ts";
import { type Description, readFixture } from "../../data/profile/gdtf/read-fixture.ts";
import { modeName, readMode } from "../../data/profile/gdtf/read-mode.ts";
import { hintFor } from "../../domain/problem/nearest.ts";
import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { functionWords } from "../../domain/trade/functions.ts";
import { readBytes } from "../../io/files/outside.ts";
import { hanging } from "../../reports/wrap.ts";
import { deliver } from "../common/deliver.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { complain, print, refuse } from "../common/print.ts";

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
