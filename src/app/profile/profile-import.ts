import { basename } from "node:path";
import { descriptionIn, MOST_PACKED } from "../../data/profile/gdtf/archive.ts";
import type { Coverage } from "../../data/profile/gdtf/coverage.ts";
import { type Description, modesByName, readFixtureType } from "../../data/profile/gdtf/description.ts";
import type { Element } from "../../data/profile/gdtf/element.ts";
import { importMode } from "../../data/profile/gdtf/import-mode.ts";
import { profileFrom } from "../../data/profile/gdtf/profile-from.ts";
import { readMode } from "../../data/profile/gdtf/read-mode.ts";
import { bad, good, hintFor, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { functionWords } from "../../domain/trade/functions.ts";
import { readBytes } from "../../io/files/outside.ts";
import { hanging } from "../../reports/wrap.ts";
import { complain, deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";

export interface ImportOrder {
  readonly file: string;
  readonly mode: string | undefined;
  /** Undefined: to the standard output. */
  readonly out: string | undefined;
}

/** Reads a maker's GDTF file: lists its modes, or makes a profile of one and tells what of it was not understood. */
export const importProfile = ({ file, mode, out }: ImportOrder): ExitCode => {
  const read = readGdtf(file);
  if (!read.ok) return refuse(read.problems);
  const { description, notes } = read.value;
  if (mode === undefined) return listModes(description);
  const element = modeCalled(description, mode);
  if (!element.ok) return refuse(element.problems);
  const name = out && basename(out).replace(/\.ya?ml$/, "");
  const made = profileFrom({
    file: basename(file),
    description,
    mode: element.value,
    name: name && /^[a-z0-9][a-z0-9-]*$/.test(name) ? name : undefined,
  });
  if (!made.ok) return refuse(made.problems);
  complain(coverageWords(made.value.coverage, made.value.toMeasure).join("\n"));
  tellNotes([...notes, ...made.value.notes]);
  return deliver(made.value.text, out);
};

interface ReadGdtf {
  readonly description: Description;
  readonly notes: readonly Problem[];
}

/** The description in a file of a maker's: in its archive, or unpacked already. */
const readGdtf = (file: string): Result<ReadGdtf> => {
  const read = readBytes(file, MOST_PACKED);
  return read.kind === "unread" ? bad(problem(file, read.why)) : gdtfIn(file, read.bytes);
};

/** The description in the bytes of a GDTF file, or of a description.xml by itself; or everything that is wrong with it. */
export const gdtfIn = (file: string, bytes: Uint8Array): Result<ReadGdtf> => {
  const text = file.toLowerCase().endsWith(".xml")
    ? good({ text: new TextDecoder().decode(bytes), notes: [] })
    : descriptionIn(file, bytes);
  if (!text.ok) return text;
  const description = readFixtureType(`${file}, description.xml`, text.value.text);
  return description.ok ? good({ description: description.value, notes: text.value.notes }) : description;
};

const modeCalled = ({ fixture }: Description, name: string): Result<Element> => {
  const modes = modesByName(fixture);
  const found = modes.get(name);
  return found ? good(found) : bad(problem(name, "there is no mode of this name", hintFor(name, [...modes.keys()])));
};

const listModes = (description: Description): ExitCode => {
  const modes = modesByName(description.fixture);
  print(
    `${safeText(description.fixture.name)}, ${modes.size === 1 ? "1 mode" : `${modes.size} modes`}; --mode NAME makes a profile of one.`,
  );
  for (const [name, mode] of modes)
    print(["", safeText(name), ...hanging("  ", modeWords(description, mode), WIDTH)].join("\n"));
  return EXIT.done;
};

const WIDTH = 79;

const modeWords = (description: Description, element: Element): string => {
  const mode = readMode(description, element);
  if (!mode.ok) return `cannot be read: ${mode.problems[0] ? lineOf(mode.problems[0]) : ""}`;
  const { functions, coverage } = importMode(description, mode.value);
  const driven = [...functions.keys()].map(functionWords);
  return `${coverage.slots} slots, ${coverage.driven} driven: ${driven.length > 0 ? driven.join(", ") : "nothing"}`;
};

/** What became of the slots of a mode, and how much is left to measure. */
const coverageWords = ({ slots, driven, held, why }: Coverage, toMeasure: number): readonly string[] => {
  const parts = [
    `${driven} of ${slots} slots driven (${Math.round((100 * driven) / slots)} %)`,
    `${held} held`,
    `${toMeasure} values to measure`,
  ];
  return [
    `${parts.join(", ")}.`,
    ...why.map(([reason, count]) => `  held, ${String(count).padStart(3)}: ${safeText(reason)}`),
  ];
};

const tellNotes = (notes: readonly Problem[]): void => {
  if (notes.length > 0) complain(`Assumed, left out, or to look at (${notes.length}):`);
  for (const note of notes) complain(`  ${lineOf(note)}`);
};

const lineOf = ({ source, place, message }: Problem): string =>
  safeText(`${source}${place ? `:${place.line}` : ""}: ${message}`);
