import { safeText } from "../domain/problem/terminal.ts";
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
  const { good, failed } = plan.letters;
  return [
    ...said(
      reasons.length === 0
        ? "Nothing stands against it: every step passed, every look and hold point is answered, the readings are signed."
        : `${reasons.length} ${reasons.length === 1 ? "thing stands" : "things stand"} against signing it back:`,
      size.columns,
      reasons.length === 0 ? "strong" : "plain",
    ),
    ...reasons.slice(page * AT_A_TIME, (page + 1) * AT_A_TIME).flatMap(({ words }) =>
      hanging("- ", safeText(words), size.columns - 2 * MARGIN)
        .slice(0, 2)
        .map((line) => asRow(line)),
    ),
    ...said(pages > 1 ? `0  more (${page + 1} of ${pages})` : "", size.columns),
    BLANK,
    ...writtenRows(sight, [["Why it is put by", note]]),
    ...said(
      session.person === "" ? `First your initials: ${keyWords(plan.letters.person)}.` : "",
      size.columns,
      "strong",
    ),
    ...answerRows(sight, [
      ...said(reasons.length === 0 ? `${keyWords(good)}: I sign it back, ready for use.` : "", size.columns, "strong"),
      ...said(`${keyWords(failed)}: put it by, in quarantine. ENTER: leave it as it stands.`, size.columns, "strong"),
    ]),
    ...moreRows(sight, ""),
  ];
};

/** A fault that comes and goes is not shown to be gone by one clean replay. */
export const onceMoreRows = (sight: Sight, { index, clean, needed }: TaskOf<"once-more">): readonly Row[] => {
  const { session, size, plan } = sight;
  return [
    ...said(`${capital(stepInWords(stepAt(session.job, index)))}.`, size.columns, "strong"),
    ...said(
      `This came and went before the repair. Clean ${clean} ${clean === 1 ? "time" : "times"} so far; ${needed} in a row are needed before it can be taken for mended.`,
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
