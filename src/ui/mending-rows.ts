import { roleTrouble } from "../data/shop/shop.ts";
import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { coverWords } from "../domain/trade/hold-points.ts";
import { nextInWords } from "../reports/next-words.ts";
import type { TaskOf } from "../run/session/by-hand/task.ts";
import { stepAt, stepInWords } from "../run/session/job.ts";
import { moreRows, writtenRows } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { AloneSight } from "./sight.ts";
import { atMost, BLANK, capital, type Line, marked, option, said, toAnswer } from "./view.ts";

/** The page of an open danger: no closing and no power before it is repaired and good again. */
export const blockedRows = ({ plan }: AloneSight, { dangers }: TaskOf<"blocked">): readonly Line[] => [
  ...dangers.map(({ words, wants }) => marked("! ", `${words}${wants === "repair" ? "" : "; inspect again"}`, "alert")),
  BLANK,
  ...said("No power. Leave the mains plug out and the fixture locked off.", "strong"),
  ...said("Repair it and inspect it again, or end here with the fixture locked out. There is no other way."),
  BLANK,
  ...said(
    dangers[0].wants === "repair" ? "ENTER: it is repaired. You say what was done." : "ENTER: inspect it again.",
    "strong",
  ),
  ...said(`${anyOf(plan.again)}: another repair for the record.`),
  ...said(`${keyWords(plan.letters.absent)}: end here, locked out; resume the run after the repair.`),
  ...said(`${keyWords(plan.letters.undo)}: undo the last answer, if it was a slip.`),
];

/** The question which fault was found, the likeliest first, one digit each. */
export const faultRows = (sight: AloneSight, { choices, note }: TaskOf<"fault">): readonly Line[] => {
  const { plan, session } = sight;
  const before = session.view.repaired.length + session.view.found.length > 0;
  return [
    ...said(before ? "What other fault did you find?" : "What fault did you find?"),
    BLANK,
    ...choices.map((id, at) => option(at + 1, knownFault(id).title)),
    option(9, note === "" ? "something else: write a note first" : "something else, as in the note"),
    BLANK,
    ...writtenRows(sight, [["Note", note]]),
    ...said(`${keyWords(plan.letters.absent)}: ${before ? "nothing more" : "no fault found"}.`, "strong"),
    ...moreRows(sight, ""),
  ];
};

/** The page of a repair: what to do about the fault, and what was done. */
export const mendRows = (
  sight: AloneSight,
  { mended, part, minutes, initials, note }: TaskOf<"mend">,
): readonly Line[] => {
  const { plan } = sight;
  const fault = mended === "something-else" ? undefined : knownFault(mended);
  return [
    ...said(`${capital(fault?.title ?? safeText(note))}.`, "strong"),
    ...said(
      fault
        ? `To do: ${fault.remedy}. ${capital(coverWords(fault.cover))}; ${fault.tool}; about ${fault.minutes} min.`
        : "",
    ),
    ...said("Work under power with a cover off: only as the maker's manual says, by a qualified person.", "faint", 1),
    BLANK,
    ...writtenRows(sight, [
      ["Part used", part],
      ["Minutes", minutes === undefined ? "" : String(minutes)],
      ["Repaired by", initials],
      ["Note", note],
    ]),
    ...said(
      initials === ""
        ? "First type the initials of who repaired it: 3. Then ENTER: it is repaired."
        : "ENTER: it is repaired.",
      "strong",
    ),
    ...said(`${keyWords(plan.letters.absent)}: not repaired now. It stays open.`, "strong"),
    ...moreRows(sight, "Part used: 1. Minutes: 2. Initials of who repaired it: 3."),
  ];
};

/** How many reasons are shown at a time. */
const AT_A_TIME = 7;

/** The last page of a check-in or a replay: everything still to do before sign-off, or the signature. */
export const signRows = (sight: AloneSight, { reasons, note }: TaskOf<"sign">): readonly Line[] => {
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

const signWords = ({ plan, session }: AloneSight, reasons: number): string => {
  if (reasons > 0) return "";
  const unfit = session.person === "" ? undefined : roleTrouble(session.job.people, "release", session.person);
  return unfit === undefined ? `${keyWords(plan.letters.good)}: I sign it off, ready for use.` : `${safeText(unfit)}.`;
};

/** The offer to play a movement once more: a fault that comes and goes is not shown to be gone by one clean replay. */
export const onceMoreRows = (sight: AloneSight, { index, clean, needed }: TaskOf<"once-more">): readonly Line[] => {
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
