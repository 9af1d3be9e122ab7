import type { Profile } from "../../data/profile/profile.ts";
import { functionWords } from "../../domain/trade/functions.ts";
import type { ProfileChange } from "./change.ts";
import type { ProofAnswer } from "./questions.ts";

/** What the answers about ends and pictures come to: changes, and what only another look at the chart can tell. */
export interface Reached {
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
