import { good, type Result } from "../../../domain/problem/problem.ts";
import { type FunctionId, functionWords, isAxisFunction } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import type { Seconds } from "../../../domain/units.ts";
import type { FunctionFile } from "../schema.ts";
import {
  type Asking,
  anyWords,
  ask,
  type Draft,
  not,
  numberFrom,
  numbersIn,
  oneOf,
  orGuess,
  type Question,
} from "./ask.ts";
import type { Shape } from "./slot.ts";

/** A function as it was told, and whether its time is only a guess. */
export interface ToldFunction {
  readonly spec: FunctionFile;
  readonly times: "said" | "guessed";
}

type DegreesShape = Extract<Shape, { kind: "degrees" }>;
type PercentShape = Extract<Shape, { kind: "percent" }>;

/** Asks of a function in degrees on `slot` (1 to 512) from where to where it travels, and how quickly. */
export function* askDegrees(draft: Draft, id: FunctionId, slot: number, shape: DegreesShape): Asking<ToldFunction> {
  const [from_deg, to_deg] = yield* ask(draft, degreesQuestion(id, shape));
  const time = yield* ask(draft, timeQuestion(id, usualTime(draft, shape.time)));
  const lag = shape.lag === undefined ? {} : { lag_s: shape.lag };
  return { spec: { slots: [slot], from_deg, to_deg, full_travel_s: time.seconds, ...lag }, times: time.times };
}

/**
 * Asks of a function in per cent on `slot` (1 to 512) from where to where it travels, and how
 * quickly; of a focus also where it is sharp.
 */
export function* askPercent(draft: Draft, id: FunctionId, slot: number, shape: PercentShape): Asking<ToldFunction> {
  const [from_pct, to_pct] = yield* ask(draft, percentQuestion(id, shape));
  const time = yield* ask(draft, timeQuestion(id, usualTime(draft, shape.time)));
  const travel = { slots: [slot], from_pct, to_pct, full_travel_s: time.seconds };
  if (id === "Focus1") {
    const sharp_pct = yield* ask(draft, SHARP);
    return { spec: { ...travel, sharp_pct }, times: time.times };
  }
  return { spec: id === "Iris" ? { ...travel, rest_pct: Math.max(from_pct, to_pct) } : travel, times: time.times };
}

/** One number is the whole travel of an axis, whose middle is 0. */
const degreesQuestion = (id: FunctionId, { ends }: DegreesShape): Question<readonly [number, number]> => {
  const guess = ends.join(" to ");
  const axis = isAxisFunction(id);
  return {
    words: `${functionWords(id)}: degrees at DMX 0 and at the top${axis ? ", or the whole travel" : ""}?`,
    guess,
    read: orGuess(guess, (text) => {
      const [from, to, more] = numbersIn(text) ?? [];
      if (from !== undefined && to === undefined && axis && from > 0) return good([-from / 2, from / 2]);
      return from === undefined || to === undefined || from === to || more !== undefined
        ? not(`"${text}" is not two ends`, guess)
        : good([from, to]);
    }),
  };
};

const percentQuestion = (id: FunctionId, { ends }: PercentShape): Question<readonly [number, number]> => {
  const guess = ends.join(" to ");
  return {
    words: `${functionWords(id)}: percent at DMX 0 and at the top?`,
    guess,
    read: orGuess(guess, (text) => {
      const [from = -1, to = -1, more] = numbersIn(text) ?? [];
      const fits = [from, to].every((end) => end >= 0 && end <= 100) && from !== to && more === undefined;
      return fits ? good([from, to]) : not(`"${text}" is not two ends from 0 to 100`, guess);
    }),
  };
};

interface Time {
  readonly seconds: Seconds;
  readonly times: "said" | "guessed";
}

/** Asks how long the full travel takes, which charts leave out. A time that is only guessed is kept as a guess. */
const timeQuestion = (id: FunctionId, usual: Seconds): Question<Time> => ({
  words: `${functionWords(id)}: seconds from end to end, as fast as it goes?`,
  guess: String(usual),
  read: (text) => {
    if (text === "") return good({ seconds: usual, times: "guessed" });
    const seconds = numberFrom(0.01, 60)(text);
    return seconds.ok ? good({ seconds: seconds.value, times: "said" }) : seconds;
  },
});

/** What a function of the same build was said to take. */
const usualTime = ({ functions }: Draft, usual: Seconds): Seconds => {
  const [, last] = functions.at(-1) ?? [];
  return last !== undefined && "from_pct" in last && usual === 0.4 ? last.full_travel_s : usual;
};

const SHARP: Question<number> = {
  words: "focus: at how many percent is a gobo sharp on your wall? Roughly; it is found again by eye.",
  guess: "50",
  read: orGuess("50", numberFrom(0, 100)),
};

type PositionFile = Extract<FunctionFile, { positions: unknown }>["positions"][number];

/** Asks of a wheel on `slot` (1 to 512) what kind it is, each position with its level, and how long one position takes. */
export function* askWheel(
  draft: Draft,
  id: FunctionId,
  slot: number,
  shape: Extract<Shape, { kind: "wheel" }>,
): Asking<ToldFunction> {
  const wheel = isGobo(id) ? yield* ask(draft, kindQuestion(id, shape.wheel)) : shape.wheel;
  const positions: PositionFile[] = [];
  for (;;) {
    const next = yield* ask(draft, positionQuestion(id, positions));
    if (next === "done") break;
    positions.push(next);
  }
  const step = timeQuestion(id, shape.step);
  const time = yield* ask(draft, { ...step, words: `${functionWords(id)}: seconds from one position to the next?` });
  return { spec: { slots: [slot], wheel, step_s: time.seconds, positions }, times: time.times };
}

const isGobo = (id: FunctionId): boolean => id === "Gobo1" || id === "Gobo2";

const kindQuestion = (id: FunctionId, guess: WheelKind): Question<WheelKind> => ({
  words: `${functionWords(id)}: do its gobos turn (rotating), or not (fixed)?`,
  guess,
  read: orGuess(guess, oneOf(["rotating", "fixed"] as const)),
});

/** "20 leaves"; a name alone stands as far on as the one before it. */
const positionQuestion = (id: FunctionId, before: readonly PositionFile[]): Question<PositionFile | "done"> => {
  const guess = before.length === 0 ? "0 open" : before.length > 1 ? "done" : undefined;
  return {
    words: `${functionWords(id)}: position ${before.length + 1}, the level where it begins and its name?`,
    guess,
    read: orGuess<PositionFile | "done">(guess, (text) =>
      text === "done" && before.length > 1 ? good("done") : positionIn(text, before),
    ),
  };
};

const positionIn = (text: string, before: readonly PositionFile[]): Result<PositionFile> => {
  const [, level, name = ""] = /^(?:(\d+)\s+)?(\S.*)$/.exec(text) ?? [];
  const [last, lastButOne] = [before.at(-1)?.at, before.at(-2)?.at];
  const at =
    level !== undefined
      ? Number(level)
      : last !== undefined && lastButOne !== undefined
        ? 2 * last - lastButOne
        : undefined;
  if (at === undefined || name === "" || /^\d+$/.test(name))
    return not(`"${text}" is not a level and a name`, 'such as "20 leaves"');
  if (at <= (last ?? -1) || at > 255) return not(`${at} does not lie between ${(last ?? -1) + 1} and 255`);
  const is = anyWords(name);
  return is.ok ? good({ at, is: is.value }) : is;
};
