import { bad, type Problem, type Result } from "../../../domain/problem/problem.ts";
import { safeText } from "../../../domain/problem/terminal.ts";
import { parseProfile } from "../parse.ts";
import type { ProfileFile } from "../schema.ts";
import { profileText, type Remarks } from "../write.ts";
import type { FixtureType, Mode } from "./description.ts";
import type { Drafted } from "./drafted.ts";
import type { Element } from "./element.ts";
import { type ImportedMode, importMode } from "./import-mode.ts";
import type { Description } from "./read-fixture.ts";
import { readMode } from "./read-mode.ts";

/** A profile file made from a GDTF mode, and what of the mode was not understood. */
export interface Imported {
  readonly name: string;
  readonly text: string;
  readonly notes: readonly Problem[];
}

/** Makes a profile of one mode. It is read back as any other before it is handed out: what Limber writes, Limber reads. */
export const profileFrom = (source: string, description: Description, element: Element): Result<Imported> => {
  const read = readMode(description, element);
  if (!read.ok) return read;
  const imported = importMode(description, read.value);
  const file = fileFrom(description.fixture, imported);
  const text = profileText(file, {
    schema: "./profile.schema.json",
    about: headOf(source, description.fixture, read.value),
    ...remarksOf(imported),
  });
  const parsed = parseProfile(`${source}, as a profile`, text);
  if (!parsed.ok) return bad(...parsed.problems.map((one) => without(description, element, one)), ...imported.notes);
  return { ok: true, value: { name: file.profile, text, notes: imported.notes } };
};

/** The text of the profile is not the user's: the mode is where to look. */
const without = ({ xml }: Description, mode: Element, { message, hint }: Problem): Problem =>
  xml.problem(mode, `cannot become a profile: ${message}`, hint);

const fileFrom = (fixture: FixtureType, { mode, functions, held }: ImportedMode): ProfileFile => ({
  profile: slug(`${fixture.name} ${mode.name}`),
  title: `${fixture.name}, ${mode.name}, ${mode.slots} slots`,
  fixture: slug(fixture.name),
  slots: mode.slots,
  power_up_s: USUAL_POWER_UP_S,
  lamp: mode.source === "led" ? LED : USUAL_DISCHARGE,
  functions: Object.fromEntries([...functions].map(([id, { spec }]) => [id, spec])),
  rest: restOf(functions),
  ...(held.length > 0 ? { held: held.map(({ slots, at, is }) => ({ slots: [...slots], at, is })) } : {}),
});

/** Common practice, no source. */
const USUAL_POWER_UP_S = 45;
const USUAL_DISCHARGE = { kind: "discharge", strike_s: 6, warm_s: 150, restrike_s: 480 } as const;
const LED = { kind: "led", strike_s: 0, warm_s: 0, restrike_s: 0 } as const;

const restOf = (functions: ImportedMode["functions"]): ProfileFile["rest"] => ({
  ...(functions.has("Shutter1") ? { Shutter1: "closed" } : {}),
  ...(restsAtNothing(functions.get("Dimmer")) ? { Dimmer: 0 } : {}),
});

/** Not a dimmer that runs backwards, or begins further up: those say with rest_pct where it is dark. */
const restsAtNothing = (dimmer: Drafted | undefined): boolean =>
  dimmer !== undefined && !("rest_pct" in dimmer.spec) && !("from_raw" in dimmer.spec);

const slug = (text: string): string =>
  text
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "") || "fixture";

const headOf = (source: string, fixture: FixtureType, mode: Mode): readonly string[] => [
  safeText(`Made by Limber from ${source}: ${fixture.name}, mode ${mode.name}.`),
  "Slots, ranges and positions are the file's. What the file does not say is a usual value and marked: measure it.",
];

const remarksOf = ({ mode, functions }: ImportedMode): Pick<Remarks, "frame" | "functions"> => ({
  frame: { power_up_s: NOT_SAID, ...(mode.source === "led" ? {} : { lamp: lampWords(mode) }) },
  functions: Object.fromEntries(
    [...functions].flatMap(([id, { remarks, measure }]) => {
      const words = [...remarks, ...(measure.length > 0 ? [`${NOT_SAID}: ${measure.join(", ")}`] : [])];
      return words.length > 0 ? [[id, safeText(words.join("; "))]] : [];
    }),
  ),
});

const NOT_SAID = "not in the file, measure";

const lampWords = ({ source }: Mode): string =>
  source === "unknown" ? "the file does not say which lamp, nor its times" : NOT_SAID;
