import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { coverWords } from "../domain/trade/covers.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { hanging } from "../reports/wrap.ts";
import type { TaskOf } from "../run/session/by-hand/task.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { asRow, BLANK, capital, MARGIN, type Row, said } from "./rows.ts";
import type { Sight } from "./sight.ts";
import { moreRows, writtenRows } from "./written-rows.ts";

/** A look from outside was not good: the fixture stays without power. */
export const blockedRows = ({ plan, size }: Sight, { looks }: TaskOf<"blocked">): readonly Row[] => [
  ...looks.flatMap((id) =>
    hanging("! ", `${inspection(id).look}: not good`, size.columns - 2 * MARGIN).map((line) => asRow(line, "alert")),
  ),
  BLANK,
  ...said("The fixture gets no power before this is mended and looked at again.", size.columns, "strong"),
  BLANK,
  ...said("ENTER: mended, look again.", size.columns, "strong"),
  ...said(`${anyOf(plan.again)}: say first what was mended, for the record.`, size.columns),
  ...said(`${keyWords(plan.letters.absent)}: put it by; the run can be resumed when it is mended.`, size.columns),
];

/** The likeliest first, one digit each. */
export const faultRows = (sight: Sight, { choices, note }: TaskOf<"fault">): readonly Row[] => {
  const { plan, size, session } = sight;
  const before = session.view.repaired.length + session.view.found.length > 0;
  return [
    ...said(before ? "What else was wrong, as it turned out?" : "What was wrong, as it turned out?", size.columns),
    BLANK,
    ...choices.map((id, at) => asRow(`${at + 1}  ${knownFault(id).title}`)),
    asRow(note === "" ? "9  something else: write first what it was" : "9  something else, as in the note"),
    BLANK,
    ...writtenRows(sight, [["Note", note]]),
    ...said(`${keyWords(plan.letters.absent)}: ${before ? "nothing more" : "no fault found"}.`, size.columns, "strong"),
    ...moreRows(sight, ""),
  ];
};

/** What to do about it, and what was done. */
export const mendRows = (sight: Sight, { mended, part, minutes, initials, note }: TaskOf<"mend">): readonly Row[] => {
  const { plan, size } = sight;
  const fault = mended === "something-else" ? undefined : knownFault(mended);
  return [
    ...said(`${capital(fault?.title ?? safeText(note))}.`, size.columns, "strong"),
    ...said(
      fault
        ? `To do: ${fault.remedy}. ${capital(coverWords(fault.cover))}; ${fault.tool}; about ${fault.minutes} min.`
        : "",
      size.columns,
    ),
    ...said(
      "Anything under power with a cover off is the maker's manual's and a qualified person's.",
      size.columns,
      "faint",
      1,
    ),
    BLANK,
    ...writtenRows(sight, [
      ["Part used", part],
      ["Minutes", minutes === undefined ? "" : String(minutes)],
      ["Mended by", initials],
      ["Note", note],
    ]),
    ...said(
      initials === "" ? "ENTER when it is mended; first the initials of who did it, by 3." : "ENTER: it is mended.",
      size.columns,
      "strong",
    ),
    ...said(`${keyWords(plan.letters.absent)}: not mended now; it stays open.`, size.columns, "strong"),
    ...moreRows(sight, "Part used: 1. Minutes: 2. Initials of who mended it: 3."),
  ];
};
