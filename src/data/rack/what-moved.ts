import { type FunctionId, functionWords, isAxisFunction } from "../../domain/trade/functions.ts";
import type { Probability } from "../../domain/units.ts";
import { cellsOf, type Profile } from "../profile/profile.ts";

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

/**
 * What was seen may have been seen in a movement of all slots; that nothing was is said of a stir. With the settings wrong
 * nobody knows whether the beam is open: only the body's own movement is never missed.
 */
const fits = (profile: Profile, setting: Setting, { asked, moved }: Moved): boolean =>
  moved === "nothing"
    ? !predicted(profile, setting, asked).some(isAxisFunction)
    : possible(profile, setting, asked).includes(moved);

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

/** How the fixture may really be set, when it does not do what it is told. */
export type Setting =
  | { readonly kind: "as-set" }
  /** Listens `offset` slots further on (below 0: before). */
  | { readonly kind: "address"; readonly offset: number }
  | { readonly kind: "swapped-axes" }
  | { readonly kind: "mode"; readonly profile: Profile; readonly offset: number }
  /** Hears nothing: cable, data wires, input, terminator, power. */
  | { readonly kind: "no-data" };

/** Starter values, judgement: how often each turns out to be the reason when nothing or the wrong thing moves. */
const USUAL = {
  asSet: 0.25,
  offByOne: 0.1,
  swapped: 0.06,
  mode: 0.15,
  noData: 0.25,
  address: 0.16,
  modeAndAddress: 0.03,
} as const;
/** How far away another start address is looked for: two fixtures' worth of slots either way. */
const REACH = 64;

interface Weighted {
  readonly setting: Setting;
  readonly weight: number;
}

/**
 * Every setting in reach, with how usual it is by the judgement above. `address` is the start
 * address that the rack file says, 1 to 512.
 */
const settings = (otherModes: readonly Profile[], address: number): readonly Weighted[] => {
  const offsets = Array.from({ length: 2 * REACH + 1 }, (_, index) => index - REACH).filter(
    (offset) => offset !== 0 && address + offset >= 1,
  );
  const far = offsets.filter((offset) => Math.abs(offset) > 1);
  return [
    { setting: { kind: "as-set" }, weight: USUAL.asSet },
    { setting: { kind: "no-data" }, weight: USUAL.noData },
    { setting: { kind: "swapped-axes" }, weight: USUAL.swapped },
    ...offsets
      .filter((offset) => Math.abs(offset) === 1)
      .map((offset): Weighted => ({ setting: { kind: "address", offset }, weight: USUAL.offByOne / 2 })),
    ...far.map((offset): Weighted => ({ setting: { kind: "address", offset }, weight: USUAL.address / far.length })),
    ...otherModes.flatMap((other) => [
      { setting: { kind: "mode", profile: other, offset: 0 } as const, weight: USUAL.mode / otherModes.length },
      ...offsets.map(
        (offset): Weighted => ({
          setting: { kind: "mode", profile: other, offset },
          weight: USUAL.modeAndAddress / otherModes.length / offsets.length,
        }),
      ),
    ]),
  ];
};

/** What is seen to move under a setting when a function of the profile is moved a little: only its coarse slot moves then. */
export const predicted = (profile: Profile, setting: Setting, asked: FunctionId): readonly FunctionId[] =>
  moving(profile, setting, asked, ([coarse = 0]) => [coarse]);

/** What is seen to move under a setting when all slots of a function are driven, as in any usual movement. */
const possible = (profile: Profile, setting: Setting, asked: FunctionId): readonly FunctionId[] =>
  moving(profile, setting, asked, (slots) => slots);

const moving = (
  profile: Profile,
  setting: Setting,
  asked: FunctionId,
  those: (slots: readonly number[]) => readonly number[],
): readonly FunctionId[] => {
  const spec = profile.functions.get(asked);
  const slots = spec ? cellsOf(spec).flatMap(those) : [];
  switch (setting.kind) {
    case "as-set":
      return [asked];
    case "no-data":
      return [];
    case "swapped-axes":
      return [asked === "Pan" ? "Tilt" : asked === "Tilt" ? "Pan" : asked];
    case "address":
      return hearing(profile, slots, setting.offset);
    case "mode":
      return hearing(setting.profile, slots, setting.offset);
  }
};

/** Functions whose coarse slot hears one of these slots; a fine slot alone moves nothing that can be seen. */
const hearing = (heard: Profile, slots: readonly number[], offset: number): readonly FunctionId[] =>
  [...heard.functions]
    .filter(([, spec]) => cellsOf(spec).some(([coarse = 0]) => slots.includes(coarse + offset)))
    .map(([id]) => id);

/** How the fixture is set, as a sentence says it. `address` is the start address that the rack file says, 1 to 512. */
export const settingInWords = (setting: Setting, address: number): string => {
  switch (setting.kind) {
    case "as-set":
      return "address and mode are as they should be";
    case "no-data":
      return "the fixture hears nothing";
    case "swapped-axes":
      return "pan and tilt are swapped in its menu";
    case "address":
      return Math.abs(setting.offset) === 1
        ? `its address is off by one: it stands at ${address + setting.offset}, not ${address}`
        : `it stands at address ${address + setting.offset}, not ${address}`;
    case "mode":
      return `it is in another mode: ${setting.profile.title}${setting.offset === 0 ? "" : `, at address ${address + setting.offset}`}`;
  }
};
