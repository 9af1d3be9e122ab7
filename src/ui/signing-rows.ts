import { roleTrouble } from "../data/shop/shop.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { nextInWords } from "../reports/next-command.ts";
import { hanging } from "../reports/wrap.ts";
import type { TaskOf } from "../run/session/by-hand/task.ts";
import { stepAt } from "../run/session/job.ts";
import { stepInWords } from "../run/session/words.ts";
import { answerRows } from "./answer-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { asRow, BLANK, capital, MARGIN, type Row, said } from "./rows.ts";
import type { Sight } from "./sight.ts";
import { moreRows, writtenRows } from "./written-rows.ts";

/** So many reasons are read at a time. */
const AT_A_TIME = 7;

/** The end of a check-in or a replay: everything that stands against signing, or the signature. */
export const signRows = (sight: Sight, { reasons, note }: TaskOf<"sign">): readonly Row[] => {
  const { size, desk, plan, session } = sight;
  const pages = Math.max(1, Math.ceil(reasons.length / AT_A_TIME));
  const page = desk.page % pages;
  const { failed } = plan.letters;
  return [
    ...said(
      reasons.length === 0
        ? "Nothing blocks the release: every step passed, every inspection and hold point is answered, the measurements are signed."
        : `${reasons.length} ${reasons.length === 1 ? "thing is" : "things are"} still to do before it is signed back:`,
      size.columns,
      reasons.length === 0 ? "strong" : "plain",
    ),
    ...reasons.slice(page * AT_A_TIME, (page + 1) * AT_A_TIME).flatMap(({ words }) =>
      hanging("- ", safeText(words), size.columns - 2 * MARGIN)
        .slice(0, 2)
        .map((line) => asRow(line)),
    ),
    ...said(pages > 1 ? `0  more (${page + 1} of ${pages})` : "", size.columns),
    ...said(nextInWords(session.job.opening.fixture.serial, reasons), size.columns, "strong"),
    BLANK,
    ...writtenRows(sight, [["Why it is held back", note]]),
    ...said(
      session.person === "" ? `First your initials: ${keyWords(plan.letters.person)}.` : "",
      size.columns,
      "strong",
    ),
    ...answerRows(sight, [
      ...said(signWords(sight, reasons.length), size.columns, "strong"),
      ...said(
        `${keyWords(failed)}: hold it back${note === "" ? `; write first why (${keyWords(plan.letters.note)})` : ""}. ENTER: leave it as it is.`,
        size.columns,
        "strong",
      ),
    ]),
    ...moreRows(sight, ""),
  ];
};

const signWords = ({ plan, session }: Sight, reasons: number): string => {
  if (reasons > 0) return "";
  const unfit = session.person === "" ? undefined : roleTrouble(session.job.people, "release", session.person);
  return unfit === undefined ? `${keyWords(plan.letters.good)}: I sign it back, ready for use.` : `${safeText(unfit)}.`;
};

/** A fault that comes and goes is not shown to be gone by one clean replay. */
export const onceMoreRows = (sight: Sight, { index, clean, needed }: TaskOf<"once-more">): readonly Row[] => {
  const { session, size, plan } = sight;
  return [
    ...said(`${capital(stepInWords(stepAt(session.job, index)))}.`, size.columns, "strong"),
    ...said(
      `It failed before, now and then or without a known reason. Clean ${clean} ${clean === 1 ? "time" : "times"} since; ${needed} in a row are needed before it counts as gone.`,
      size.columns,
    ),
    ...said("Even then it may come back in one case of twenty. A few clean passes prove nothing.", size.columns),
    BLANK,
    ...answerRows(sight, said(`${keyWords(plan.own["play-again"])}: play it again.`, size.columns, "strong")),
    ...said(
      `${keyWords(plan.letters.absent)}: enough for now. Stop it all: ${anyOf(plan.stop)}.`,
      size.columns,
      "strong",
    ),
  ];
};
