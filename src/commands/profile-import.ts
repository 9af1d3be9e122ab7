import { problem, type Result } from "../problem/problem.ts";
import { safeText } from "../problem/terminal.ts";
import { descriptionIn, MOST_PACKED } from "../profile/gdtf/archive.ts";
import type { Mode } from "../profile/gdtf/description.ts";
import { type Description, readFixture } from "../profile/gdtf/read-fixture.ts";
import { modeName, readMode } from "../profile/gdtf/read-mode.ts";
import { readBytes } from "../shelf/outside.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { print, refuse } from "./print.ts";

/** Reads a maker's GDTF file: lists its modes. */
export const importProfile = (file: string): ExitCode => {
  const read = readBytes(file, MOST_PACKED);
  if (read.kind === "unread") return refuse([problem(file, read.why)]);
  const text = descriptionIn(file, read.bytes);
  if (!text.ok) return refuse(text.problems);
  const description = readFixture(`${file}, description.xml`, text.value);
  if (!description.ok) return refuse(description.problems);
  print(listOf(description.value).join("\n"));
  return EXIT.done;
};

const listOf = (description: Description): readonly string[] => [
  `${safeText(description.fixture.name)}: ${description.fixture.modes.length} modes`,
  ...description.fixture.modes.map(
    (mode) => `  ${safeText(modeName(mode)).padEnd(24)}  ${modeLine(readMode(description, mode))}`,
  ),
];

const modeLine = (mode: Result<Mode>): string =>
  mode.ok
    ? `${mode.value.slots} slots, ${mode.value.channels.length} channels`
    : `cannot be read: ${mode.problems.length} mistakes`;
