import { good, type Result } from "../../../domain/problem/problem.ts";
import { type FunctionId, functionWords } from "../../../domain/trade/functions.ts";
import type { BandFile, CommandFile } from "../schema.ts";
import { BAND_MEANINGS, type FunctionFile } from "../schema.ts";
import {
  type Asking,
  ask,
  type Draft,
  not,
  numberFrom,
  numbersIn,
  oneOf,
  orGuess,
  type Question,
  wholeFrom,
} from "./ask.ts";
import type { Shape } from "./slot.ts";

/** Asks stretch after stretch of a banded function on `slot` (1 to 512), until its last level has a meaning. */
export function* askBands(
  draft: Draft,
  id: FunctionId,
  slot: number,
  { bands: usual, move }: Extract<Shape, { kind: "bands" }>,
): Asking<FunctionFile> {
  const bands: BandFile[] = [];
  for (let from = 0; from <= 255; from = (bands.at(-1)?.to ?? 0) + 1)
    bands.push(yield* ask(draft, bandQuestion(id, from, usual, bands.length)));
  return { slots: [slot], ...(move === undefined ? {} : { move_s: move }), bands };
}

/** "63 open", "200 strobe 0.5 15" or, as charts have it, "64-200 strobe 0.5 15". */
const bandQuestion = (id: FunctionId, from: number, usual: readonly string[], at: number): Question<BandFile> => {
  const guess = usual.slice(at).find((band) => Number.parseInt(band, 10) >= from) ?? "255 nothing";
  return {
    words: `${functionWords(id)}: from level ${from} up to which level, and what does it do there?`,
    guess,
    read: orGuess(guess, (text) => bandIn(text, from)),
  };
};

const bandIn = (text: string, least: number): Result<BandFile> => {
  const [, first, last = "", meaning = "", rest = ""] =
    /^(?:(\d+)\s*(?:-|–|to)\s*)?(\d+)\s+([a-z]+)\s*(.*)$/i.exec(text) ?? [];
  const is = oneOf(BAND_MEANINGS)(meaning);
  if (last === "") return not(`"${text}" is not a level and what it does`, `such as "63 open", or "200 strobe 0.5 15"`);
  if (!is.ok) return is;
  const [from, to] = [Number(first ?? least), Number(last)];
  if (from < least || to < from || to > 255) return not(`"${text}" does not lie between ${least} and 255`);
  const range = rangeIn(rest, is.value);
  return range.ok ? good({ from, to, is: is.value, ...range.value }) : range;
};

const UNITS = { strobe: ["from_hz", "to_hz"], index: ["from_deg", "to_deg"], turn: ["from_rpm", "to_rpm"] } as const;
const WANTED = {
  strobe: "flashes a second at both ends, such as 0.5 15",
  index: "degrees at both ends, such as 0 360",
  turn: "turns a minute at both ends, the other way with a minus, such as 60 1",
} as const;

const rangeIn = (text: string, is: BandFile["is"]): Result<Partial<BandFile>> => {
  if (is !== "strobe" && is !== "index" && is !== "turn")
    return text === "" ? good({}) : not(`"${text}" is too much: "${is}" has no range`);
  const [from, to, more] = numbersIn(text) ?? [];
  if (from === undefined || to === undefined || more !== undefined || (is === "strobe" && Math.min(from, to) <= 0))
    return not(`"${is}" needs two more numbers`, WANTED[is]);
  const [low, high] = UNITS[is];
  return good({ [low]: from, [high]: to });
};

/**
 * Asks at which levels `slot` (1 to 512) does nothing, and at which it does what. Undefined when
 * it does nothing that Limber asks for.
 */
export function* askCommands(
  draft: Draft,
  id: FunctionId,
  slot: number,
  { commands: usual }: Extract<Shape, { kind: "commands" }>,
): Asking<FunctionFile | undefined> {
  const rest = yield* ask(draft, restQuestion(id));
  const commands: CommandFile[] = [];
  for (const is of usual.filter((one) => suits(draft, one))) {
    const at = yield* ask(draft, levelQuestion(id, is));
    if (at === "none") continue;
    const hold_s = yield* ask(draft, HOLD);
    const then_s = is === "reset" ? yield* ask(draft, thenQuestion(draft.frame.power_up_s ?? 40)) : 0;
    commands.push({ is, at, hold_s, then_s });
  }
  return commands.length === 0 ? undefined : { slots: [slot], rest, commands };
}

const suits = ({ frame }: Draft, is: CommandFile["is"]): boolean =>
  frame.lamp?.kind !== "led" || (is !== "lamp-on" && is !== "lamp-off");

const restQuestion = (id: FunctionId): Question<number> => ({
  words: `${functionWords(id)}: at which level does this slot do nothing?`,
  guess: "0",
  read: orGuess("0", wholeFrom(0, 255)),
});

const levelQuestion = (id: FunctionId, is: CommandFile["is"]): Question<number | "none"> => ({
  words: `${functionWords(id)}: level for "${is}", in the middle of the chart's range?`,
  guess: "none",
  read: (text) => (text === "" || text === "none" ? good("none") : wholeFrom(0, 255)(text)),
});

const HOLD: Question<number> = {
  words: "Held for how many seconds before it is obeyed?",
  guess: "5",
  read: orGuess("5", numberFrom(0.1, 60)),
};

const thenQuestion = (usual: number): Question<number> => ({
  words: "Seconds until it listens again after the reset?",
  guess: String(usual),
  read: orGuess(String(usual), numberFrom(0, 600)),
});
