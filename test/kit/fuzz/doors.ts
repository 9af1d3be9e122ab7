import { readdirSync } from "node:fs";
import fc from "fast-check";
import { parseBench } from "../../../src/data/bench/bench.ts";
import { lint } from "../../../src/data/profile/lint/lint.ts";
import { readProfile } from "../../../src/data/profile/parse.ts";
import { parseRack } from "../../../src/data/rack/parse.ts";
import { parseSequence } from "../../../src/data/sequence/parse.ts";
import { good, type Problem, type Result, tellProblems } from "../../../src/domain/problem/problem.ts";
import { archiveOf } from "../../data/profile/gdtf/kit/gdtf.ts";
import { importOf } from "../../data/profile/gdtf/kit/imported.ts";
import { SAMPLE, sampleArchive } from "../../data/profile/gdtf/kit/sample.ts";
import { shippedProfile, shippedText } from "../shipped.ts";
import { damage, damaged, edited, edits } from "./mutation.ts";

/** A way by which a file from outside comes in. */
export interface Door {
  readonly name: string;
  /** Valid files, each changed in a few places. */
  readonly files: fc.Arbitrary<unknown>;
  /** What comes of one: nothing that is wrong with the answer, or in words what is. */
  readonly flawOf: (file: never) => string | undefined;
}

const yamlDoor = (name: string, folder: string, open: (text: string) => Result<unknown>): Door => {
  const texts = readdirSync(folder)
    .filter((file) => file.endsWith(".yaml"))
    .map((file) => shippedText(`${folder}/${file}`));
  return {
    name,
    files: fc.tuple(fc.constantFrom(...texts), edits).map(([text, all]) => edited(text, all)),
    flawOf: (text: string) => flawIn(open(text), text),
  };
};

const SPOT = shippedProfile("spot-16bit");

export const DOORS: readonly Door[] = [
  yamlDoor("profile", "profiles", (text) => {
    const read = readProfile("profile.yaml", text);
    if (read.ok) lint(read.value);
    return read;
  }),
  yamlDoor("sequence", "sequences", (text) => parseSequence("sequence.yaml", text)),
  yamlDoor("rack", "racks", (text) => parseRack("rack.yaml", text, () => good(SPOT))),
  yamlDoor("bench", "benches", (text) => parseBench("bench.yaml", text)),
  {
    name: "GDTF description",
    files: fc
      .tuple(fc.constantFrom("Basic", "Extended", "Cells"), edits)
      .map(([mode, all]) => ({ mode, text: edited(SAMPLE, all) })),
    flawOf: ({ mode, text }: { readonly mode: string; readonly text: string }) =>
      flawIn(importOf(archiveOf(text), mode), new TextDecoder().decode(new TextEncoder().encode(text))),
  },
  {
    name: "GDTF archive",
    files: damage.map((one) => damaged(sampleArchive(), one)),
    // A mistake of the archive itself has no line: its name is its place.
    flawOf: (bytes: Uint8Array) => flawIn(importOf(bytes, "Basic"), undefined),
  },
];

/** Of a refusal: there is a reason, it can be told, and it points into the text. */
const flawIn = (result: Result<unknown>, text: string | undefined): string | undefined => {
  if (result.ok) return undefined;
  if (result.problems.length === 0) return "refused without a reason";
  if (tellProblems(result.problems).trim() === "") return "refused without words";
  const lines = text?.split("\n") ?? [];
  return result.problems
    .map((problem) => (text === undefined ? undefined : misplaced(problem, lines)))
    .find((flaw) => flaw);
};

const misplaced = ({ message, place }: Problem, lines: readonly string[]): string | undefined => {
  if (!place) return `no place: ${message}`;
  const line = lines[place.line - 1];
  if (line === undefined) return `line ${place.line} of ${lines.length}: ${message}`;
  if (place.text !== line.replace(/\r$/, "")) return `not the text of line ${place.line}: ${message}`;
  return place.column >= 1 && place.length >= 1 && place.column - 1 <= place.text.length
    ? undefined
    : `column ${place.column}: ${message}`;
};
