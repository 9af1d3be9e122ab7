import { answerInWords, type Moved, WHEN_NOTHING_MOVES } from "../data/rack/what-moved.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { offeredInWords } from "../reports/next-words.ts";
import { hanging } from "../reports/wrap.ts";
import { answerRows } from "./answer-rows.ts";
import { movable } from "./finding-keys.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { spectacleRows } from "./moving-rows.ts";
import { MOST } from "./pages.ts";
import { asRow, BLANK, capital, MARGIN, type Row, said } from "./rows.ts";
import type { Sight, StageOf } from "./sight.ts";

/** One function is stirred, to see what moves in its place. */
export const stirringRows = (sight: Sight, { ask, answers }: StageOf<"stirring">): readonly Row[] => {
  const { columns } = sight.size;
  return [
    ...said(`${capital(functionWords(ask))} is asked to move a little, nothing else. What moves?`, columns, "strong"),
    BLANK,
    ...spectacleRows(sight, []),
    BLANK,
    ...answeredRows(answers, columns),
    ...said(`Stop it all: ${anyOf(sight.plan.stop)}.`, columns),
  ];
};

export const whatMovedRows = (sight: Sight, { ask, answers }: StageOf<"what-moved">): readonly Row[] => {
  const { session, desk, plan, size } = sight;
  const page = movable(session).slice(desk.page * MOST, (desk.page + 1) * MOST);
  return [
    ...said(`${capital(functionWords(ask))} was asked to move. What moved?`, size.columns),
    BLANK,
    ...page.map((what, at) =>
      asRow(`${at + 1}  ${what === "nothing" ? "nothing that can be seen" : functionWords(what)}`),
    ),
    asRow("0  something else"),
    BLANK,
    ...answeredRows(answers, size.columns),
    ...said(
      `Once more: ${anyOf(plan.again)}. Leave it and go on: ${keyWords(plan.letters.absent)}. Stop it all: ${anyOf(plan.stop)}.`,
      size.columns,
    ),
  ];
};

const answeredRows = (answers: readonly Moved[], columns: number): readonly Row[] =>
  answers.flatMap((answer) => said(`${capital(answerInWords(answer))}.`, columns, "faint", 1));

const MOST_EXPLANATIONS = 3;

/** What the answers say about address, mode, menu and data. */
export const settingRows = (sight: Sight, { answers, conclusion }: StageOf<"setting-found">): readonly Row[] => {
  const { plan, size } = sight;
  const { settled, explanations } = conclusion;
  const silent = answers.length > 0 && answers.every(({ moved }) => moved === "nothing");
  const found = settled ? [settled] : explanations.slice(0, MOST_EXPLANATIONS);
  return [
    ...said(
      found.length === 0 ? "No setting explains this. Look at the data:" : settled ? "Most likely:" : "It may be:",
      size.columns,
    ),
    ...found.flatMap(({ words }) => item("- ", safeText(words), size.columns, "strong")),
    BLANK,
    ...(silent || found.length === 0
      ? WHEN_NOTHING_MOVES.flatMap((look) => item("- ", look, size.columns, "plain"))
      : []),
    BLANK,
    ...answerRows(
      sight,
      said(
        `Put it right at the fixture's panel and step back, then ${keyWords(plan.own["set-right"])}: it is identified again.`,
        size.columns,
        "strong",
      ),
    ),
    ...said(`Leave it and go on: ${keyWords(plan.letters.absent)}. Stop it all: ${anyOf(plan.stop)}.`, size.columns),
  ];
};

/** All planned steps are answered; what could tell more, in the fewest minutes. */
export const offersRows = (sight: Sight, { offers }: StageOf<"what-next">): readonly Row[] => {
  const { plan, size } = sight;
  return [
    ...said("Every step has its answer. These would tell most in the least time:", size.columns),
    BLANK,
    ...offers.flatMap((offer, at) =>
      item(
        offer.kind === "inspection" ? "-  " : `${at + 1}  `,
        withoutNames(offeredInWords(offer)),
        size.columns,
        "plain",
      ),
    ),
    BLANK,
    ...answerRows(sight, [
      ...said("A digit moves it now. What is to be looked at by hand stands on the job sheet.", size.columns),
      ...said("ENTER: enough, to the job sheet.", size.columns, "strong"),
    ]),
    ...said(`Stop it all: ${anyOf(plan.stop)}.`, size.columns),
  ];
};

/** Names for the command line mean nothing here. */
const withoutNames = (words: string): string => safeText(words.replace(/ \[[a-z-]+\]/, ""));

const item = (mark: string, words: string, columns: number, look: Row["look"]): readonly Row[] =>
  hanging(mark, words, columns - 2 * MARGIN).map((line) => asRow(line, look));
