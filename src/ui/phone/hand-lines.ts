import { roleTrouble } from "../../data/shop/shop.ts";
import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { CLEANING_CAUTIONS, cleaning, effortOf, PAD_RULES } from "../../domain/trade/cleanings.ts";
import { coverWords, holdPointWords } from "../../domain/trade/hold-points.ts";
import { inspection, lookReason } from "../../domain/trade/inspections.ts";
import { READINGS, valueTrouble } from "../../domain/trade/readings.ts";
import { padsInWords } from "../../reports/hand-work.ts";
import type { PhoneLine } from "../../run/phone/message.ts";
import type { HandTask, TaskOf } from "../../run/session/by-hand/task.ts";
import { stepAt, stepInWords } from "../../run/session/job.ts";
import type { Session } from "../../run/session/session.ts";
import { cautionAt } from "../by-hand-rows.ts";
import { howDirty } from "../together-rows.ts";
import { capital } from "../view.ts";

/** The sentences for something done by hand, on a phone. The maker's manual and local rules go before these words. */
export const handLines = (session: Session, task: HandTask): readonly PhoneLine[] => {
  switch (task.kind) {
    case "hold-point":
      return [
        strong(`${capital(holdPointWords(task.point))}.`),
        faint("The maker's manual and local rules come first. Nothing is commanded to move."),
        ...[cautionAt(session, task.point)].filter((words) => words !== "").map(strong),
        ...(session.person === "" ? [strong("First your initials: they are saved with it.")] : []),
      ];
    case "look":
      return lookLines(task);
    case "looks":
      return task.inspections.map((id) => plain(`${inspection(id).look}: ${inspection(id).good}`));
    case "dirt":
      return PAD_RULES.map(plain);
    case "cleans":
      return [
        strong(`${capital(howDirty(session, task.dirt))}.`),
        ...task.cleanings.map((id) => plain(`${cleaning(id).what}: ${padsInWords(effortOf(id, task.dirt).pads)}`)),
        ...CLEANING_CAUTIONS.map(plain),
      ];
    case "clean":
      return [
        strong(`${padsInWords(effortOf(task.cleaning, task.dirt).pads)}, ${cleaning(task.cleaning).wetWith}.`),
        plain(`${capital(cleaning(task.cleaning).how)}.`),
        ...CLEANING_CAUTIONS.map(plain),
      ];
    case "reading":
      return readingLines(session, task);
    case "blocked":
      return [
        ...task.dangers.map(({ words }) => ({ text: safeText(words), look: "alert" }) as const),
        strong("No power. Leave the mains plug out and the fixture locked off."),
      ];
    case "fault":
      return [plain("What fault did you find?"), ...noted(task.note)];
    case "mend":
      return mendLines(task);
    case "once-more":
      return [
        strong(`${capital(stepInWords(stepAt(session.job, task.index)))}.`),
        plain(`It failed before. Clean ${task.clean} times since; ${task.needed} in a row are needed.`),
      ];
    case "sign":
      return signLines(session, task);
    default:
      return task satisfies never;
  }
};

const plain = (text: string): PhoneLine => ({ text, look: "plain" });
const strong = (text: string): PhoneLine => ({ text, look: "strong" });
const faint = (text: string): PhoneLine => ({ text, look: "faint" });
const noted = (note: string): readonly PhoneLine[] => (note === "" ? [] : [plain(`Note: ${safeText(note)}`)]);

const lookLines = ({ inspection: id, note, photo }: TaskOf<"look">): readonly PhoneLine[] => {
  const { look, good, bad } = inspection(id);
  return [
    strong(`${capital(look)}.`),
    plain(`Good: ${good}`),
    plain(`Bad: ${bad}`),
    ...(lookReason(id) === "" ? [] : [faint(lookReason(id))]),
    ...noted(note),
    ...(photo === "" ? [] : [plain("It has a photo.")]),
  ];
};

const readingLines = (session: Session, task: TaskOf<"reading">): readonly PhoneLine[] => {
  const { reading, value, initials, note } = task;
  const { how, unit, signed } = READINGS[reading];
  const competent = signed === "by a competent person";
  const unfit = competent && initials !== "" ? roleTrouble(session.job.people, "measure", initials) : undefined;
  const trouble = value === undefined ? undefined : valueTrouble(reading, value);
  return [
    plain(`${capital(how)}.`),
    ...(competent ? [strong("Only a competent person measures this. The limit is in the local rule.")] : []),
    ...(value === undefined ? [] : [plain(`Value: ${value} ${unit}`.trim())]),
    ...(initials === "" ? [] : [plain(`Measured by ${safeText(initials)}`)]),
    ...[unfit, trouble].flatMap((words) => (words === undefined ? [] : [strong(`${safeText(words)}.`)])),
    ...noted(note),
  ];
};

const mendLines = ({ mended, part, minutes, initials, note }: TaskOf<"mend">): readonly PhoneLine[] => {
  const fault = mended === "something-else" ? undefined : knownFault(mended);
  const written = [
    part === "" ? "" : `Part used: ${safeText(part)}`,
    minutes === undefined ? "" : `Minutes: ${minutes}`,
    initials === "" ? "" : `Repaired by ${safeText(initials)}`,
  ];
  return [
    strong(`${capital(fault?.title ?? safeText(note))}.`),
    ...(fault
      ? [
          plain(
            `To do: ${fault.remedy}. ${capital(coverWords(fault.cover))}; ${fault.tool}; about ${fault.minutes} min.`,
          ),
        ]
      : []),
    faint("Work under power with a cover off: only as the maker's manual says, by a qualified person."),
    ...written.filter(Boolean).map(plain),
    ...noted(note),
  ];
};

const signLines = (session: Session, { reasons, note }: TaskOf<"sign">): readonly PhoneLine[] => {
  const unfit = session.person === "" ? undefined : roleTrouble(session.job.people, "release", session.person);
  return [
    ...(reasons.length === 0
      ? [strong("Nothing blocks the release.")]
      : [
          plain(`Still to do before sign-off: ${reasons.length}`),
          ...reasons.map(({ words }) => plain(safeText(words))),
        ]),
    ...(unfit === undefined ? [] : [strong(`${safeText(unfit)}.`)]),
    ...(session.person === "" ? [strong("First your initials.")] : []),
    ...noted(note),
  ];
};
