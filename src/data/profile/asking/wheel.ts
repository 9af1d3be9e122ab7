import { good, type Result } from "../../../domain/problem/problem.ts";
import { type FunctionId, functionWords } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import type { FunctionFile } from "../schema.ts";
import { type Asking, anyWords, ask, not, oneOf, orGuess, type Question } from "./ask.ts";
import type { Draft } from "./draft.ts";
import type { Shape } from "./shapes.ts";
import { type ToldFunction, timeQuestion } from "./travel.ts";

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
