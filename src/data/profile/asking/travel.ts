import { good } from "../../../domain/problem/problem.ts";
import { type FunctionId, functionWords } from "../../../domain/trade/functions.ts";
import type { Seconds } from "../../../domain/units.ts";
import type { FunctionFile } from "../schema.ts";
import { type Asking, ask, not, numberFrom, numbersIn, orGuess, type Question } from "./ask.ts";
import type { Draft } from "./draft.ts";
import type { Shape } from "./shapes.ts";

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
  const axis = id === "Pan" || id === "Tilt";
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
export const timeQuestion = (id: FunctionId, usual: Seconds): Question<Time> => ({
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
