import { roleTrouble } from "../data/shop/shop.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { CLEANING_CAUTIONS, cleaning, effortOf, PAD_RULES } from "../domain/trade/cleanings.ts";
import { COVERS, type CoverId, type HoldPointId, holdPointWords } from "../domain/trade/hold-points.ts";
import { inspection, lookReason } from "../domain/trade/inspections.ts";
import { sourceCaution } from "../domain/trade/mechanisms.ts";
import { READINGS, type ReadingId, valueTrouble } from "../domain/trade/readings.ts";
import { padsInWords } from "../reports/hand-work.ts";

import { coversOff } from "../run/session/by-hand/holds.ts";
import type { HandTask, TaskOf } from "../run/session/by-hand/task.ts";
import type { Session } from "../run/session/session.ts";
import { moreRows, personRows, undoWords, writtenRows } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { blockedRows, faultRows, mendRows, onceMoreRows, signRows } from "./mending-rows.ts";
import type { AloneSight } from "./sight.ts";
import { cleansRows, dirtRows, looksRows } from "./together-rows.ts";
import { BLANK, capital, type Line, marked, said, toAnswer } from "./view.ts";

/** The page for something to be done by hand, one thing at a time. */
export const handRows = (sight: AloneSight, task: HandTask): readonly Line[] => {
  switch (task.kind) {
    case "hold-point":
      return holdRows(sight, task);
    case "look":
      return lookRows(sight, task);
    case "looks":
      return looksRows(sight, task);
    case "dirt":
      return dirtRows(sight);
    case "cleans":
      return cleansRows(sight, task);
    case "clean":
      return cleanRows(sight, task);
    case "reading":
      return readingRows(sight, task);
    case "blocked":
      return blockedRows(sight, task);
    case "fault":
      return faultRows(sight, task);
    case "mend":
      return mendRows(sight, task);
    case "once-more":
      return onceMoreRows(sight, task);
    case "sign":
      return signRows(sight, task);
    default:
      return task satisfies never;
  }
};

const holdRows = (sight: AloneSight, { point }: TaskOf<"hold-point">): readonly Line[] => {
  const { plan, session } = sight;
  return [
    ...said(`${capital(holdPointWords(point))}.`, "strong"),
    BLANK,
    ...said(
      "The maker's manual and local rules come first. The beam is shut. Nothing is commanded to move.",
      "faint",
      1,
    ),
    ...said(cautionAt(session, point), "strong"),
    BLANK,
    ...(session.person === ""
      ? said(`First your initials: ${keyWords(plan.letters.person)}. They are saved with it.`, "strong")
      : toAnswer(said(`${keyWords(plan.own[point])}: confirmed.`, "strong"))),
    ...said(`If not: put it right first. ${anyOf(plan.stop)} stops it all.${undoWords(sight)}`),
    ...personRows(sight),
  ];
};

/** What the source of light can do to whoever stands above it at this hold point; "" where its covers stay on. */
export const cautionAt = ({ job }: Session, point: HoldPointId): string =>
  ABOVE_THE_SOURCE.includes(point) ? sourceCaution(job.timeline.profile.lamp.kind) : "";

/** Where covers come off the source of light. */
const ABOVE_THE_SOURCE: readonly HoldPointId[] = ["cool", "cover-removed"];

const lookRows = (sight: AloneSight, { inspection: id, why, note, photo }: TaskOf<"look">): readonly Line[] => {
  const { look, good, bad, minutes, cover } = inspection(id);
  const { good: yes, failed, unsure, absent } = sight.plan.letters;
  return [
    ...said(`${capital(look)}.`, "strong"),
    BLANK,
    marked("good:  ", good),
    marked("bad:   ", bad),
    ...(lookReason(id) === "" ? [] : [marked("why:   ", lookReason(id))]),
    BLANK,
    ...said(`${WHY[why]}; ${timeOf(minutes)}${coverTime(cover, coversOff(sight.session))}.`, "faint", 1),
    ...writtenRows(sight, [
      ["Note", note],
      ["Photo", photo],
    ]),
    ...toAnswer(
      said(
        `${keyWords(yes)}: good. ${keyWords(failed)}: bad. ${keyWords(unsure)}: unsure. ${keyWords(absent)}: not inspected.`,
        "strong",
      ),
    ),
    ...moreRows(sight, `File name of a photo: 1.${undoWords(sight)}`),
  ];
};

const WHY = {
  proposed: "Proposed by the symptoms so far",
  due: "Due at every check-in",
  again: "Again, because it was not good",
} as const;

const timeOf = (minutes: number): string => (minutes < 1 ? "under a minute" : `about ${Math.round(minutes)} min`);
/** What has been opened costs nothing more. */
const coverTime = (cover: CoverId, off: readonly CoverId[]): string =>
  COVERS[cover].minutes === 0 || off.includes(cover) ? "" : `, ${COVERS[cover].minutes} min more to open and close it`;

const cleanRows = (sight: AloneSight, { cleaning: id, dirt, note }: TaskOf<"clean">): readonly Line[] => {
  const { wetWith, how } = cleaning(id);
  const { pads, minutes } = effortOf(id, dirt);
  const { good, absent } = sight.plan.letters;
  const tools = pads === 0 ? "No pad." : `${padsInWords(pads)}, ${wetWith}.`;
  return [
    ...said(`${tools} About ${minutes} min.`, "strong"),
    ...said(`${capital(how)}.`),
    BLANK,
    ...(pads === 0 ? [] : PAD_RULES.map((words) => marked("- ", words, "plain", 1))),
    ...CLEANING_CAUTIONS.map((words) => marked("! ", words, "plain", 1)),
    ...writtenRows(sight, [["Note", note]]),
    ...toAnswer(said(`${keyWords(good)}: done. ${keyWords(absent)}: left out.`, "strong")),
    ...moreRows(sight, undoWords(sight).trim()),
  ];
};

/** Why "in limit" does not count yet; empty when it does. */
const missingIn = ({ session }: AloneSight, id: ReadingId, value: number | undefined, initials: string): string => {
  const competent = READINGS[id].signed === "by a competent person";
  if (competent && initials === "") return "Before it counts: press ENTER and type the initials of who measured.";
  const unfit = competent ? roleTrouble(session.job.people, "measure", initials) : undefined;
  if (unfit !== undefined) return `${safeText(unfit)}.`;
  const trouble = valueTrouble(id, value);
  if (trouble === undefined) return "";
  return value === undefined ? "Before it counts as in limit: type the value." : `${trouble}: type the value again.`;
};

const readingRows = (sight: AloneSight, { reading: id, value, initials, note }: TaskOf<"reading">): readonly Line[] => {
  const { how, unit, signed } = READINGS[id];
  const { good, failed, absent } = sight.plan.letters;
  const competent = signed === "by a competent person";
  return [
    ...said(`${capital(how)}.`),
    ...said(competent ? "Only a competent person measures this. The limit is in the local rule." : "", "strong"),
    BLANK,
    ...writtenRows(sight, [
      ["Value", value === undefined ? "" : `${value} ${unit}`.trim()],
      ["Measured by", initials],
      ["Note", note],
    ]),
    ...said(missingIn(sight, id, value, initials), "strong"),
    ...said(
      competent && initials !== "" && initials !== sight.session.person
        ? `It is signed for ${safeText(initials)}. Somebody else measured: ENTER.`
        : "",
      "strong",
    ),
    ...toAnswer(
      said(
        competent
          ? `${keyWords(good)}: in limit. ${keyWords(failed)}: out of limit. ${keyWords(absent)}: not measured.`
          : `${keyWords(good)}: read. ${keyWords(absent)}: not read.`,
        "strong",
      ),
    ),
    ...moreRows(
      sight,
      `Value${unit === "" ? "" : ` in ${unit}`}: type it.${competent ? " Who measured: ENTER." : ""}${undoWords(sight)}`,
    ),
  ];
};
