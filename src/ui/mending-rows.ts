import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { coverWords } from "../domain/trade/hold-points.ts";

import type { TaskOf } from "../run/session/by-hand/task.ts";
import { moreRows, writtenRows } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { Sight } from "./sight.ts";
import { BLANK, capital, type Line, marked, option, said } from "./view.ts";

/** The page of an open danger: no closing and no power before it is repaired and good again. */
export const blockedRows = ({ plan }: Sight, { dangers }: TaskOf<"blocked">): readonly Line[] => [
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
export const faultRows = (sight: Sight, { choices, note }: TaskOf<"fault">): readonly Line[] => {
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
export const mendRows = (sight: Sight, { mended, part, minutes, initials, note }: TaskOf<"mend">): readonly Line[] => {
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
