import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { sayLook } from "../diagnosis/model/reasons.ts";
import { cleaning } from "../domain/trade/cleanings.ts";
import { type DangerSource, inspection } from "../domain/trade/inspections.ts";
import { READINGS } from "../domain/trade/readings.ts";
import type { Decision, RunView } from "../run/events/view.ts";

/**
 * What was done by hand in a run: inspections, cleaning, measurements, what was found and repaired, and how it was signed.
 */
export const byHandInWords = (view: RunView): readonly string[] => [
  ...view.inspected.map(lookInWords),
  ...view.cleaned.map(cleanedInWords),
  ...view.readings.map(readingInWords),
  ...view.found.map(findInWords),
  ...view.repaired.map(repairInWords),
  ...view.decisions.map(decisionInWords),
];

const joined = (...parts: readonly string[]): string => parts.filter(Boolean).join("; ");

const lookInWords = ({ inspection: id, answer, note, photo }: RunView["inspected"][number]): string =>
  joined(sayLook(id, answer), note, photo ? `photo ${photo}` : "");

const cleanedInWords = ({ cleaning: id, done, note }: RunView["cleaned"][number]): string =>
  joined(`${done === "done" ? "cleaned" : "not cleaned"}: ${cleaning(id).what}`, note);

const VERDICTS = { within: "in limit", outside: "OUT OF LIMIT", "not-taken": "not taken" } as const;
/**
 * A measurement in words: what was measured, the value where there is one, whether it is in limit, and who signed for it.
 */
export const readingInWords = ({
  reading: id,
  value,
  unit,
  verdict,
  initials,
  note,
}: RunView["readings"][number]): string =>
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
    `repaired: ${repair.what === "fault" ? knownFault(repair.fault).title : "something else"}`,
    repair.part === "" ? "" : `part used: ${repair.part}`,
    repair.minutes > 0 ? `${repair.minutes} min` : "",
    `by ${repair.initials}`,
    repair.note,
  );

/** A decision about the fixture in words, with the initials of who took it and their note. */
export const decisionInWords = (decision: Decision): string => {
  switch (decision.kind) {
    case "signed-off":
      return joined(`signed off by ${decision.initials}`, decision.note);
    case "quarantined":
      return joined(`held back${by(decision.initials)}`, decision.note);
    case "hold-lifted":
      return joined(`no longer held back${by(decision.initials)}`, decision.note);
    case "second-opinion":
      return joined(`second opinion${by(decision.initials)} on ${dangerSourceWords(decision.about)}`, decision.note);
    case "kind-changed":
      return joined(
        `another kind of fixture: ${decision.from} before, now ${decision.to}`,
        by(decision.initials).trim(),
        decision.note,
      );
    default:
      return decision satisfies never;
  }
};

const by = (initials: string): string => (initials === "" ? "" : ` by ${initials}`);
const dangerSourceWords = (source: DangerSource): string =>
  source === "electrical-safety" ? READINGS[source].words : inspection(source).look;
