import { roleTrouble } from "../data/shop/shop.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { nextInWords } from "../reports/next-words.ts";
import type { TaskOf } from "../run/session/by-hand/task.ts";
import { stepAt, stepInWords } from "../run/session/job.ts";
import { moreRows, writtenRows } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { Sight } from "./sight.ts";
import { atMost, BLANK, capital, type Line, marked, option, said, toAnswer } from "./view.ts";

/** How many reasons are shown at a time. */
const AT_A_TIME = 7;

/** The last page of a check-in or a replay: everything still to do before sign-off, or the signature. */
export const signRows = (sight: Sight, { reasons, note }: TaskOf<"sign">): readonly Line[] => {
  const { desk, plan, session } = sight;
  const pages = Math.max(1, Math.ceil(reasons.length / AT_A_TIME));
  const page = desk.page % pages;
  const { failed } = plan.letters;
  return [
    ...said(
      reasons.length === 0
        ? "Nothing blocks the release: every step passed, every inspection and hold point is answered, the measurements are signed."
        : `Still to do before sign-off: ${reasons.length}`,
      reasons.length === 0 ? "strong" : "plain",
    ),
    ...atMost(
      2,
      reasons.slice(page * AT_A_TIME, (page + 1) * AT_A_TIME).map(({ words }) => marked("- ", safeText(words))),
    ),
    ...(pages > 1 ? [option(0, `more: page ${page + 1} of ${pages}`)] : []),
    ...said(nextInWords(session.job.opening.fixture.serial, reasons), "strong"),
    BLANK,
    ...writtenRows(sight, [["Why it is held back", note]]),
    ...said(session.person === "" ? `First your initials: ${keyWords(plan.letters.person)}.` : "", "strong"),
    ...toAnswer([
      ...said(signWords(sight, reasons.length), "strong"),
      ...said(
        `${keyWords(failed)}: hold it back${note === "" ? `; first write why (${keyWords(plan.letters.note)})` : ""}. ENTER: do not sign now.`,
        "strong",
      ),
    ]),
    ...moreRows(sight, ""),
  ];
};

const signWords = ({ plan, session }: Sight, reasons: number): string => {
  if (reasons > 0) return "";
  const unfit = session.person === "" ? undefined : roleTrouble(session.job.people, "release", session.person);
  return unfit === undefined ? `${keyWords(plan.letters.good)}: I sign it off, ready for use.` : `${safeText(unfit)}.`;
};

/** The offer to play a movement once more: a fault that comes and goes is not shown to be gone by one clean replay. */
export const onceMoreRows = (sight: Sight, { index, clean, needed }: TaskOf<"once-more">): readonly Line[] => {
  const { session, plan } = sight;
  return [
    ...said(`${capital(stepInWords(stepAt(session.job, index)))}.`, "strong"),
    ...said(
      `It failed before, now and then or for no known reason. Clean passes since: ${clean}. The fault counts as gone after ${needed} in a row.`,
    ),
    ...said("Even then it may come back in one case of twenty. A few clean passes prove nothing."),
    BLANK,
    ...toAnswer(said(`${keyWords(plan.own["play-again"])}: play it again.`, "strong")),
    ...said(`${keyWords(plan.letters.absent)}: enough for now. Stop it all: ${anyOf(plan.stop)}.`, "strong"),
  ];
};
