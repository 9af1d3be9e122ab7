import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { sayLook } from "../diagnosis/model/words.ts";
import { cleaning } from "../domain/trade/cleanings.ts";
import { READINGS } from "../domain/trade/readings.ts";
import type { RunView } from "../run/events/view.ts";

/** What was done by hand in a run: looks, cleaning, readings, what was found and mended, and how it was signed. */
export const byHandInWords = (view: RunView): readonly string[] => [
  ...view.inspected.map(lookInWords),
  ...view.cleaned.map(cleanedInWords),
  ...view.readings.map(readingInWords),
  ...view.found.map(findInWords),
  ...view.repaired.map(repairInWords),
  ...view.verdicts.map(verdictInWords),
];

const joined = (...parts: readonly string[]): string => parts.filter(Boolean).join("; ");

const lookInWords = ({ inspection: id, answer, note, photo }: RunView["inspected"][number]): string =>
  joined(sayLook(id, answer), note, photo ? `photo ${photo}` : "");

const cleanedInWords = ({ cleaning: id, done, note }: RunView["cleaned"][number]): string =>
  joined(`${done === "done" ? "cleaned" : "not cleaned"}: ${cleaning(id).what}`, note);

const VERDICTS = { within: "within the limit", outside: "OUTSIDE THE LIMIT", "not-taken": "not taken" } as const;
const readingInWords = ({ reading: id, value, unit, verdict, initials, note }: RunView["readings"][number]): string =>
  joined(
    `${READINGS[id].words}: ${[value === undefined ? "" : `${value} ${unit}`.trim(), VERDICTS[verdict]].filter(Boolean).join(", ")}`,
    initials === "" ? "" : `signed ${initials}`,
    note,
  );

const findInWords = (found: RunView["found"][number]): string => {
  const what = { fault: "found", nothing: "no fault found", "something-else": "found something else" } as const;
  return joined(found.what === "fault" ? `found: ${knownFault(found.fault).title}` : what[found.what], found.note);
};

const repairInWords = (repair: RunView["repaired"][number]): string =>
  joined(
    `mended: ${repair.what === "fault" ? knownFault(repair.fault).title : "something else"}`,
    repair.part === "" ? "" : `part used: ${repair.part}`,
    repair.minutes > 0 ? `${repair.minutes} min` : "",
    `by ${repair.initials}`,
    repair.note,
  );

const verdictInWords = (verdict: RunView["verdicts"][number]): string =>
  verdict.kind === "signed-off"
    ? joined(`signed back by ${verdict.initials}`, verdict.note)
    : joined(`put by${verdict.initials === "" ? "" : ` by ${verdict.initials}`}`, verdict.note);
