import { answerInWords, type Moved, WHEN_NOTHING_MOVES } from "../data/rack/what-moved.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { offeredInWords, untriedInWords } from "../reports/next-words.ts";
import type { AdviceGround } from "../run/session/offered.ts";
import type { StageOf } from "../run/session/session.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { movable } from "./question-keys.ts";
import type { AloneSight } from "./sight.ts";
import { MOST } from "./symptom-pages.ts";
import { spectacleRows } from "./travel-rows.ts";
import { BLANK, capital, type Line, marked, option, said, toAnswer } from "./view.ts";

/** The page while one function is moved a little, to see what moves in its place. */
export const stirringRows = (sight: AloneSight, { ask, answers }: StageOf<"stirring">): readonly Line[] => {
  return [
    ...said(`${capital(functionWords(ask))} alone is commanded to move a little. What moves?`, "strong"),
    BLANK,
    ...spectacleRows(sight, []),
    BLANK,
    ...answeredRows(answers),
    ...said(`Stop it all: ${anyOf(sight.plan.stop)}.`),
  ];
};

/** The question what moved, with a digit for each function. */
export const whatMovedRows = (sight: AloneSight, { ask, answers }: StageOf<"what-moved">): readonly Line[] => {
  const { session, desk, plan } = sight;
  const all = movable(session);
  const page = all.slice(desk.page * MOST, (desk.page + 1) * MOST);
  const pages = Math.ceil(all.length / MOST);
  return [
    ...said(`${capital(functionWords(ask))} was commanded to move. What moved?`),
    BLANK,
    ...page.map((what, at) => option(at + 1, what === "nothing" ? "nothing that can be seen" : functionWords(what))),
    ...(pages > 1 ? [option(0, `more: page ${desk.page + 1} of ${pages}`)] : []),
    BLANK,
    ...answeredRows(answers),
    ...said(
      `Repeat: ${anyOf(plan.again)}. Skip it: ${keyWords(plan.letters.absent)}. Stop it all: ${anyOf(plan.stop)}.`,
    ),
  ];
};

const answeredRows = (answers: readonly Moved[]): readonly Line[] =>
  answers.flatMap((answer) => said(`${capital(answerInWords(answer))}.`, "faint", 1));

const MOST_EXPLANATIONS = 3;

/** What the answers say about address, mode, menu and data. */
export const settingRows = (sight: AloneSight, { answers, conclusion }: StageOf<"setting-found">): readonly Line[] => {
  const { plan } = sight;
  const { settled, explanations } = conclusion;
  const silent = answers.length > 0 && answers.every(({ moved }) => moved === "nothing");
  const found = settled ? [settled] : explanations.slice(0, MOST_EXPLANATIONS);
  return [
    ...said(
      found.length === 0 ? "No setting explains this. Look at the data:" : settled ? "Most likely:" : "It may be:",
    ),
    ...found.map(({ words }) => marked("- ", safeText(words), "strong")),
    BLANK,
    ...(silent || found.length === 0 ? WHEN_NOTHING_MOVES.map((look) => marked("- ", look)) : []),
    BLANK,
    ...toAnswer(
      said(
        `Correct it at the fixture's panel and step back. Then ${keyWords(plan.own["set-right"])}: Limber identifies it again.`,
        "strong",
      ),
    ),
    ...said(`Skip it: ${keyWords(plan.letters.absent)}. Stop it all: ${anyOf(plan.stop)}.`),
  ];
};

/** The page when all planned steps are answered: what could tell more, in the fewest minutes. */
export const offersRows = (sight: AloneSight, { offers, change, ground }: StageOf<"what-next">): readonly Line[] => {
  const { plan } = sight;
  return [
    ...(change === "" ? [] : [...said(change), BLANK]),
    ...groundSentences(ground).flatMap((sentence) => said(sentence)),
    BLANK,
    ...offers.map((offer, at) => option(at + 1, withoutNames(offeredInWords(offer)))),
    BLANK,
    ...toAnswer([
      ...(offers.some(({ kind }) => kind !== "inspection") ? said("A digit starts that test at once: it moves.") : []),
      ...(offers.some(({ kind }) => kind === "inspection")
        ? said("An inspection has its own page first, with what must be off; others behind the same cover follow.")
        : []),
      ...said("ENTER: no more tests, show the job sheet.", "strong"),
    ]),
    ...said(`Stop it all: ${anyOf(plan.stop)}.`),
  ];
};

/** Why something is offered: what was found and cannot be explained, or what a check in which nothing was found could not show. */
export const groundSentences = (ground: AdviceGround): readonly string[] => [
  ...ground.unexplained.map((one) => safeText(`Not explained by anything known: ${one}.`)),
  ...(ground.kind === "reported"
    ? ["All steps are answered. These would tell most in the least time:"]
    : [
        "Nothing speaks for a fault.",
        untriedInWords(ground.untried),
        "These would most likely bring something to light:",
      ]
  ).filter((sentence) => sentence !== ""),
];

/** Names for the command line mean nothing here. */
const withoutNames = (words: string): string => safeText(words.replace(/ \[[a-z-]+\]/, ""));
