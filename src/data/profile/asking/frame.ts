import { good } from "../../../domain/problem/problem.ts";
import { LIGHT_SOURCE_IDS } from "../../../domain/trade/mechanisms.ts";
import type { ProfileFile } from "../schema.ts";
import { type Asking, anyWords, ask, not, numberFrom, oneOf, orGuess, type Question, wholeFrom } from "./ask.ts";
import { type Draft, EMPTY_DRAFT } from "./draft.ts";

/**
 * Asks what the fixture is called, in which mode, how many slots that takes, where its light comes
 * from, and how long it takes to start.
 */
export function* askFrame(usualName: string | undefined): Asking<Draft> {
  let draft = EMPTY_DRAFT;
  const put = (more: Draft["frame"]): void => {
    draft = { ...draft, frame: { ...draft.frame, ...more } };
  };
  put({ profile: yield* ask(draft, nameQuestion(usualName)) });
  const fixture = yield* ask(draft, FIXTURE);
  put({ fixture });
  const mode = yield* ask(draft, MODE);
  const slots = yield* ask(draft, SLOTS);
  put({ title: `${fixture}, ${mode}, ${slots} slots`, slots });
  put({ power_up_s: yield* ask(draft, POWER_UP) });
  put({ lamp: yield* askLamp(draft) });
  return draft;
}

const nameQuestion = (guess: string | undefined): Question<string> => ({
  words: "A name for this profile, and for its file: small letters, digits and hyphens?",
  guess,
  read: orGuess(guess, (text) =>
    /^[a-z0-9][a-z0-9-]*$/.test(text) ? good(text) : not(`"${text}" is not a name`, "such as wash-extended"),
  ),
});

const words = (question: string, guess: string | undefined): Question<string> => ({
  words: question,
  guess,
  read: orGuess(guess, (text) => (anyWords(text).ok && text.trim() !== "" ? anyWords(text) : not("a word or two"))),
});
const FIXTURE = words("What kind of fixture is it, in your own words, the same for all its modes?", undefined);
const MODE = words("Which mode is this, as the fixture's own menu calls it?", "basic mode");

const SLOTS: Question<number> = {
  words: "How many slots does this mode take?",
  guess: undefined,
  read: orGuess(undefined, wholeFrom(1, 512)),
};

const POWER_UP: Question<number> = {
  words: "Seconds from the mains on until it has found its home?",
  guess: "45",
  read: orGuess("45", numberFrom(1, 600)),
};

/** Starter values, judgement; the lamp's maker knows better. */
const LAMP = { strike_s: 6, warm_s: 150, restrike_s: 480 } as const;

function* askLamp(draft: Draft): Asking<ProfileFile["lamp"]> {
  const kind = yield* ask(draft, {
    words: "Where does its light come from: a discharge lamp, LEDs, a laser, or an ultraviolet source?",
    guess: "led",
    read: orGuess("led", oneOf(LIGHT_SOURCE_IDS)),
  });
  if (kind !== "discharge") return { kind, strike_s: 0, warm_s: 0, restrike_s: 0 };
  const seconds = (what: string, usual: number): Question<number> => ({
    words: `Seconds the lamp takes to ${what}?`,
    guess: String(usual),
    read: orGuess(String(usual), numberFrom(0, 3600)),
  });
  const strike_s = yield* ask(draft, seconds("strike", LAMP.strike_s));
  const warm_s = yield* ask(draft, seconds("warm up, until its colour is steady", LAMP.warm_s));
  const restrike_s = yield* ask(draft, seconds("cool, before it strikes again", LAMP.restrike_s));
  return { kind, strike_s, warm_s, restrike_s };
}
