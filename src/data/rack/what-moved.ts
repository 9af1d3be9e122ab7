import { type FunctionId, functionWords } from "../../domain/trade/functions.ts";
import type { Probability } from "../../domain/units.ts";
import type { Profile } from "../profile/profile.ts";
import { possible, predicted, type Setting, settingInWords, settings } from "./setting.ts";

/** One answer to "what moved?": which function was asked to move, and what did. */
export interface Moved {
  readonly asked: FunctionId;
  readonly moved: FunctionId | "nothing";
}

interface Explained {
  readonly setting: Setting;
  readonly belief: Probability;
  readonly words: string;
}

export interface Conclusion {
  /** Every setting that fits all answers, most likely first. */
  readonly explanations: readonly Explained[];
  /** The one that is settled; undefined: can't say yet. */
  readonly settled: Explained | undefined;
  /** What to ask to move next, when that could tell the explanations apart. */
  readonly ask: FunctionId | undefined;
}

const SETTLED = 0.95;
/** One answer alone may be what is usual, and not what is so. */
const FEWEST_ANSWERS = 2;
/**
 * Works out from what moved instead how the fixture is set: exact over all settings in reach (Bayes' rule). Answers are
 * taken at their word. `address` is the start address that the rack file says, 1 to 512.
 */
export const whatMoved = (
  profile: Profile,
  otherModes: readonly Profile[],
  address: number,
  answers: readonly Moved[],
): Conclusion => {
  const fitting = settings(otherModes, address).filter(({ setting }) =>
    answers.every((answer) => fits(profile, setting, answer)),
  );
  const sum = fitting.reduce((total, { weight }) => total + weight, 0);
  const explanations = fitting
    .map(({ setting, weight }) => ({ setting, belief: weight / sum, words: settingInWords(setting, address) }))
    .sort((a, b) => b.belief - a.belief);
  const first = explanations[0];
  const sure = first && first.belief >= SETTLED && answers.length >= FEWEST_ANSWERS;
  const settled = sure ? first : undefined;
  return { explanations, settled, ask: settled ? undefined : bestQuestion(profile, explanations, answers) };
};

/** What was seen may have been seen in a movement of all slots; that nothing was is said of a stir. */
const fits = (profile: Profile, setting: Setting, { asked, moved }: Moved): boolean =>
  moved === "nothing"
    ? !predicted(profile, setting, asked).some((id) => SEEN_IN_THE_DARK.includes(id))
    : possible(profile, setting, asked).includes(moved);

/** With the settings wrong nobody knows whether the beam is open: only the body's own movement is never missed. */
const SEEN_IN_THE_DARK: readonly FunctionId[] = ["Pan", "Tilt"];

/** The function whose answer splits the remaining explanations most evenly; none when every answer would say the same. */
const bestQuestion = (
  profile: Profile,
  explanations: readonly Explained[],
  answers: readonly Moved[],
): FunctionId | undefined => {
  const open = [...profile.functions.keys()].filter(
    (id) => id !== "Control1" && id !== "LampControl" && !answers.some(({ asked }) => asked === id),
  );
  const rated = open
    .map((id) => ({ id, left: expectedLeft(profile, explanations, id) }))
    .sort((a, b) => a.left - b.left);
  const best = rated[0];
  return best && best.left < 1 - 1e-9 ? best.id : undefined;
};

/** The belief that would on average stand behind the answer given: 1 when the answer is certain beforehand. */
const expectedLeft = (profile: Profile, explanations: readonly Explained[], asked: FunctionId): number => {
  const byAnswer = new Map<string, number>();
  for (const { setting, belief } of explanations) {
    const answer = predicted(profile, setting, asked).join("+");
    byAnswer.set(answer, (byAnswer.get(answer) ?? 0) + belief);
  }
  return [...byAnswer.values()].reduce((sum, belief) => sum + belief * belief, 0);
};

/** What a shop looks at, in this order, when nothing moves at all (common practice, no source). */
export const WHEN_NOTHING_MOVES: readonly string[] = [
  "Is the data light on the fixture lit?",
  "Press a panel key: which address and mode does it show?",
  "Is its input set to DMX?",
  "Put a short cable that is known to be good straight from the interface to it.",
  "Put a fixture that is known to be good in its place.",
  "Are the two data wires swapped, is one of them open, is the terminator missing?",
  "Test its input and its through connector: the loop through may be bad.",
];

/** "cyan was commanded to move; pan moved." */
export const answerInWords = ({ asked, moved }: Moved): string =>
  `${functionWords(asked)} was commanded to move; ${moved === "nothing" ? "nothing" : functionWords(moved)} moved`;
