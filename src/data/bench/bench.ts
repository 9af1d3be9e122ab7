import { z } from "zod";
import { checkShape, type DataFile, problemAt, readDataFile } from "../../domain/problem/document.ts";
import { bad, byPlace, good, type Problem, type Result } from "../../domain/problem/problem.ts";
import type { Degrees } from "../../domain/units.ts";
import { isMistake, type Output, outputName, parseOutput } from "./output.ts";

/** One DMX line of a bench: which universe goes out where. */
interface BenchLine {
  readonly universe: number;
  readonly output: Output;
}

const lineEntry = z.strictObject({
  universe: z.int().min(1).max(63_999),
  output: z.string().min(1).describe("serial:PATH, break:PATH, sacn:UNIVERSE or artnet:UNIVERSE"),
  to: z.string().optional().describe('sacn and artnet: the IPv4 address of the receiver; sacn also "multicast"'),
});
type LineEntry = z.infer<typeof lineEntry>;

/** The DMX lines of a bench file, or everything that is wrong with them. */
const linesOf = (file: DataFile, entries: readonly LineEntry[]): Result<readonly BenchLine[]> => {
  const lines: BenchLine[] = [];
  const wrong: Problem[] = [];
  for (const [index, { universe, output: text, to }] of entries.entries()) {
    const output = parseOutput(text, to);
    const say = (key: keyof LineEntry, message: string, hint?: string) =>
      wrong.push(problemAt(file, ["lines", index, key], { message, hint }));
    if (isMistake(output)) {
      say(output.about, output.message, output.hint);
      continue;
    }
    if (output.kind === "sim") say("output", "a simulated line belongs to no bench", "name --output sim instead");
    const same = lines.find((line) => placeOf(line.output) === placeOf(output));
    if (same) say("output", `universe ${same.universe} goes out there already`);
    if (lines.some((line) => line.universe === universe)) say("universe", `universe ${universe} has a line already`);
    lines.push({ universe, output });
  }
  return wrong.length > 0 ? bad(...byPlace(wrong)) : good(lines);
};

/** Two lines in one place would speak into each other: one port, whatever is spoken on it, or one universe of one receiver. */
const placeOf = (output: Output): string => ("path" in output ? output.path : outputName(output));

const degrees = z.tuple([z.number(), z.number()]);
const keyName = z
  .string()
  .min(1)
  .max(12)
  .describe('A character, or "space", "enter", "pagedown", "pageup", "up", "down", "left", "right", "tab", "escape"');

/** The shape of a bench file: what is true of this bench whatever fixture stands on it. */
export const benchFile = z.strictObject({
  bench: z.string().min(1).describe("What people call this bench"),
  target_m: z.number().positive().describe("From the fixture to the wall it is judged on"),
  target: z
    .strictObject({
      pan_deg: z.number().describe("Pan angle at which the beam meets it"),
      tilt_deg: z.number().describe("Tilt angle at which the beam meets it"),
    })
    .describe("Where the beam meets the wall"),
  beam_sector: z
    .strictObject({
      pan_deg: degrees.describe("From and to, in degrees of pan"),
      tilt_deg: degrees.describe("From and to, in degrees of tilt"),
    })
    .describe("The only directions in which the beam may be open"),
  attitude: z
    .enum(["standing", "hung"])
    .describe("How the fixture is held here: gravity pulls the other way when hung"),
  buttons: z
    .strictObject({
      press: z.array(keyName).min(1).describe("Something is wrong; at a question: the next answer"),
      again: z.array(keyName).min(1).describe("This step again; at a question: take this answer"),
      stop: z.array(keyName).min(1).describe("Stop it all"),
    })
    .optional()
    .describe("The keys of the three buttons, of a foot switch or a remote too"),
  foot_switch: keyName
    .optional()
    .describe(
      "A foot switch with one contact types this key: a press, two presses to repeat or to take an answer, held down to stop",
    ),
  voice: z.enum(["on", "off"]).optional().describe("Whether announcements are spoken, where the computer can"),
  announce: z.enum(["fixture", "bell"]).optional().describe("fixture: the beam itself says when to watch"),
  lines: z.array(lineEntry).min(1).optional().describe("Which universe goes out where, for who names no --output"),
});

/** This bench. */
export interface Bench {
  readonly name: string;
  readonly targetMetres: number;
  readonly target: { readonly pan: Degrees; readonly tilt: Degrees };
  readonly sector: { readonly pan: readonly [Degrees, Degrees]; readonly tilt: readonly [Degrees, Degrees] };
  readonly attitude: "standing" | "hung";
  readonly buttons: Buttons;
  /** The key that a foot switch with one contact types; undefined where there is none. */
  readonly footSwitch: string | undefined;
  readonly voice: boolean;
  readonly announce: "fixture" | "bell";
  /** Every universe once. */
  readonly lines: readonly BenchLine[];
}
/** Which keys the three buttons are: keyboards, foot switches and presenter remotes all type keys. */
export interface Buttons {
  readonly press: readonly string[];
  readonly again: readonly string[];
  readonly stop: readonly string[];
}

const USUAL_BUTTONS: Buttons = { press: ["space", "pagedown"], again: ["a", "pageup"], stop: ["s", "escape"] };

/** Reads a bench file: the bench, or everything that is wrong at once. */
export const parseBench = (source: string, text: string): Result<Bench> => {
  const file = readDataFile(source, text);
  if (!file.ok) return file;
  const checked = checkShape(file.value, benchFile);
  if (!checked.ok) return checked;
  const { bench, target_m, target, beam_sector, attitude, buttons, voice, announce } = checked.value;
  const lines = linesOf(file.value, checked.value.lines ?? []);
  if (!lines.ok) return bad(...lines.problems);
  const footSwitch = checked.value.foot_switch;
  const keys = buttons ?? USUAL_BUTTONS;
  if (footSwitch !== undefined && isButton(keys, footSwitch))
    return bad(
      problemAt(file.value, ["foot_switch"], {
        message: `${footSwitch} is the key of a button already`,
        hint: "give the foot switch a key of its own",
      }),
    );
  return good({
    name: bench,
    targetMetres: target_m,
    target: { pan: target.pan_deg, tilt: target.tilt_deg },
    sector: { pan: beam_sector.pan_deg, tilt: beam_sector.tilt_deg },
    attitude,
    buttons: keys,
    footSwitch,
    voice: voice === "on",
    announce: announce ?? "bell",
    lines: lines.value,
  });
};

const isButton = ({ press, again, stop }: Buttons, key: string): boolean =>
  [...press, ...again, ...stop].some((one) => one.toLowerCase() === key.toLowerCase());

/** Whether an open beam is allowed at this pan and tilt. */
export const inSector = ({ sector }: Bench, pan: Degrees, tilt: Degrees): boolean =>
  pan >= sector.pan[0] && pan <= sector.pan[1] && tilt >= sector.tilt[0] && tilt <= sector.tilt[1];
