import { good } from "../../../domain/problem/problem.ts";
import { type FunctionId, functionWords } from "../../../domain/trade/functions.ts";
import type { FunctionFile } from "../schema.ts";
import { type Asking, ask, type Question } from "./ask.ts";
import type { Draft } from "./draft.ts";
import { numberFrom, orGuess, wholeFrom } from "./reading.ts";
import type { Shape } from "./shapes.ts";

type CommandFile = Extract<FunctionFile, { commands: unknown }>["commands"][number];

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
