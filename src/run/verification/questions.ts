import { not, oneOf, orGuess, type Question } from "../../data/profile/asking/ask.ts";
import { functionHint, functionNamed } from "../../data/profile/asking/slot.ts";
import type { FunctionSpec, Profile, Travel } from "../../data/profile/profile.ts";
import { good } from "../../domain/problem/problem.ts";
import { type FunctionId, functionWords } from "../../domain/trade/functions.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { ProfileChange } from "./change.ts";
import type { SlotMoved } from "./steps.ts";

/** What somebody saw in a step of a proof. */
export type ProofAnswer =
  | { readonly kind: "moved"; readonly moved: SlotMoved }
  | { readonly kind: "reached"; readonly function: FunctionId; readonly saw: (typeof SAW)[number] }
  /** A wheel: which of its pictures stood where another was told. */
  | { readonly kind: "showed"; readonly function: FunctionId; readonly told: string; readonly saw: string }
  | { readonly kind: "again" };

const SAW = ["yes", "other way", "short", "nothing", "no"] as const;

/** What to ask when a step of a proof is over. */
export const questionFor = (profile: Profile, step: CompiledStep): Question<ProofAnswer> => {
  const [id] = step.functions;
  const spec = id === undefined ? undefined : profile.functions.get(id);
  if (id === undefined || !spec) throw new Error(`Bug: step ${step.id} of a proof proves nothing`);
  const question = step.routine === "identify" ? movedQuestion(profile, id) : reachedQuestion(id, spec);
  return { ...question, read: (text) => (text === "again" ? good({ kind: "again" }) : question.read(text)) };
};

/** Only what the fixture has can have moved. */
const movedQuestion = (profile: Profile, asked: FunctionId): Question<ProofAnswer> => {
  const guess = functionWords(asked);
  return {
    words: `What moved? A function, or "nothing"`,
    guess,
    read: orGuess(guess, (text) => {
      const moved = text === "nothing" ? text : functionNamed(text);
      if (moved === undefined) return not(`"${text}" is not a function`, functionHint(text));
      return moved === "nothing" || profile.functions.has(moved)
        ? good({ kind: "moved", moved: { asked, moved } })
        : not(`by this profile the fixture has no ${functionWords(moved)}`);
    }),
  };
};

const reachedQuestion = (id: FunctionId, spec: FunctionSpec): Question<ProofAnswer> => {
  if (spec.kind === "wheel") return showedQuestion(id, spec.positions[1]?.is ?? "");
  // ENTER was a press a moment ago: it must not be taken for an answer.
  const guess = spec.kind === "travel" ? undefined : "yes";
  return {
    words: `${expected(id, spec)} Was it so? yes, other way, short, nothing, no`,
    guess,
    read: orGuess(guess, (text) => {
      const saw = oneOf(SAW)(text);
      return saw.ok ? good({ kind: "reached", function: id, saw: saw.value }) : saw;
    }),
  };
};

const showedQuestion = (id: FunctionId, told: string): Question<ProofAnswer> => ({
  words: `${functionWords(id)}: the first that it turned to should be "${told}". Which was it, by its name in the profile, or "no"?`,
  guess: told,
  read: orGuess(told, (saw) => good({ kind: "showed", function: id, told, saw })),
});

/** What the profile says that was to be seen. */
export const expected = (id: FunctionId, spec: FunctionSpec): string => {
  const what = functionWords(id);
  if (spec.kind === "travel")
    return `${what}: from ${endInWords(id, spec, spec.from)} to ${endInWords(id, spec, spec.to)}, and back.`;
  if (spec.kind === "wheel") return `${what}: ${spec.positions.map(({ is }) => is).join(", ")}, and back.`;
  if (spec.kind !== "banded") return `${what}.`;
  if (spec.bands.some(({ is }) => is === "turn"))
    return `${what}: four angles a quarter turn apart, then slow and fast turns, both ways.`;
  return id === "Shutter1" ? "shutter: dark, then light, and again." : `${what}: out of the beam, then in, and again.`;
};

/** A place that somebody can see, where there is one. */
const endInWords = (id: FunctionId, { unit }: Travel, value: number): string => {
  const seen = SEEN_AS[id]?.[value === 0 ? 0 : 1];
  const amount = `${value} ${unit === "deg" ? "degrees" : "%"}`;
  return seen !== undefined && (value === 0 || value === 100) ? `${amount} (${seen})` : amount;
};

/** At 0 and at 100 percent. */
const SEEN_AS: Partial<Record<FunctionId, readonly [string, string]>> = {
  Dimmer: ["dark", "full light"],
  ColorSub_C: ["white", "full cyan"],
  ColorSub_M: ["white", "full magenta"],
  ColorSub_Y: ["white", "full yellow"],
  CTO: ["white", "warm"],
  Frost1: ["hard", "frosted"],
  Iris: ["closed", "wide open"],
};

/** What the answers about ends and pictures come to: changes, and what only another look at the chart can tell. */
interface Reached {
  readonly changes: readonly ProfileChange[];
  readonly open: readonly string[];
}

/**
 * What the answers about ends and pictures come to: changes of the profile, and what
 * only another look at the chart can tell.
 */
export const reached = (profile: Profile, answers: readonly ProofAnswer[]): Reached => ({
  changes: answers.flatMap((answer) => changeFor(profile, answer)),
  open: answers.flatMap((answer) => openFor(profile, answer)),
});

const changeFor = (profile: Profile, answer: ProofAnswer): readonly ProfileChange[] => {
  if (answer.kind === "reached" && answer.saw === "other way")
    return [{ kind: "other-way", function: answer.function }];
  const by = answer.kind === "showed" ? namesOff(profile, answer) : 0;
  return answer.kind === "showed" && by ? [{ kind: "names-shifted", function: answer.function, by }] : [];
};

/** How many positions further on the picture is that was seen; undefined when the profile has no such name. */
const namesOff = (
  { functions }: Profile,
  { function: id, told, saw }: Extract<ProofAnswer, { kind: "showed" }>,
): number | undefined => {
  const spec = functions.get(id);
  const names = spec?.kind === "wheel" ? spec.positions.map(({ is }) => is.toLowerCase()) : [];
  const at = names.indexOf(saw.toLowerCase());
  return at < 0 ? undefined : at - names.indexOf(told.toLowerCase());
};

const openFor = (profile: Profile, answer: ProofAnswer): readonly string[] => {
  if (answer.kind === "showed" && namesOff(profile, answer) === undefined)
    return [
      `${functionWords(answer.function)} showed "${answer.saw}" for "${answer.told}": see the levels in the chart`,
    ];
  if (answer.kind !== "reached") return [];
  const words = OPEN[answer.saw];
  return words === undefined ? [] : [`${functionWords(answer.function)} ${words}`];
};

const OPEN: Readonly<Partial<Record<string, string>>> = {
  short: "does not come to an end of its travel: see its range in the chart, and in the fixture's menu",
  nothing: "did not move from end to end: see its slots and levels in the chart",
  no: "did not do what the profile says: see its line in the chart",
};
