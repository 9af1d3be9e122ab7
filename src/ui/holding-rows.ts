import { holdPointWords } from "../domain/trade/hold-points.ts";
import { sourceCaution } from "../domain/trade/mechanisms.ts";
import { spanInWords } from "../reports/status-words.ts";
import { stepAt, stepInWords } from "../run/session/job.ts";
import type { HoldPoint, Session, StageOf } from "../run/session/session.ts";
import { personRows, undoWords } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { Sight } from "./sight.ts";
import { BLANK, type Line, marked, said, toAnswer } from "./view.ts";

/** The page of a hold point. The maker's manual and local rules go before these words; common practice, no source. */
export const holdingRows = (sight: Sight, { point, next }: StageOf<"holding">): readonly Line[] => {
  const { plan, session } = sight;
  const yes = keyWords(plan.own[point]);
  const points = [
    ...pointsInWords(session, point),
    ...sourcePoint(session),
    ...(point === "before-moving" ? unknownPoint(session) : []),
  ];
  return [
    ...practiceRows(session),
    ...points.flatMap(item),
    BLANK,
    ...said(`Then: ${stepInWords(stepAt(session.job, next.index))}.`, "faint", 1),
    BLANK,
    ...toAnswer(
      said(
        point === "before-moving"
          ? `${yes}: all of this is confirmed.`
          : `${yes}: all of this is confirmed, and the mains goes on. Press it at that moment.`,
        "strong",
      ),
    ),
    ...said(`If not: ${anyOf(plan.stop)} stops it all.${undoWords(sight)}`),
    ...personRows(sight),
  ];
};

/** Light that is worse for people than bright light. */
const sourcePoint = ({ job }: Session): readonly string[] => {
  const { kind } = job.timeline.profile.lamp;
  return kind === "laser" || kind === "ultraviolet" ? [`- ${sourceCaution(kind)}`] : [];
};

/** Says that nobody knows where the fixture stands before the first signal of a run; nothing later. */
export const unknownPoint = ({ commanded }: Session): readonly string[] =>
  commanded === undefined
    ? ["- where it stands is not known: when the signal begins it may swing once, at a speed that nobody can foresee"]
    : [];

/** What is confirmed at a hold point, a line each. With the mains the fixture begins to move. */
export const pointsInWords = ({ job }: Session, point: HoldPoint): readonly string[] => [
  `- ${holdPointWords("area-clear")}`,
  "- pan and tilt transport locks off, plug and cord whole, fixture stands firm; if it hangs: safety bond on",
  "- nobody looks into the lens; anybody whom flashing light could harm has been told",
  "- stopping here is not an emergency stop: the mains isolator is",
  ...(point === "mains-on"
    ? [
        `- it moves by itself as soon as it has power, for about ${spanInWords(job.timeline.profile.powerUp)}; then the light comes`,
      ]
    : []),
];

/** What is said once at the beginning of a practice round. */
const practiceRows = ({ job, view }: Session): readonly Line[] => {
  if (!job.opening.simulated || view.confirmed.length > 0) return [];
  const words = "Practice: find out what is wrong with this fixture. The hidden fault is shown at the end.";
  return [...said(words, "strong", 1), BLANK];
};

/** Lines under a dash are set in. */
const item = (words: string): readonly Line[] =>
  words.startsWith("- ") ? [marked("- ", words.slice(2))] : said(words);

/** The page while pan and tilt make the slow movement that comes before anything at full speed. */
export const slowRows = ({ plan, session }: Sight, { next }: StageOf<"slow-start">): readonly Line[] => [
  ...said("Pan and tilt move a little and back, slowly and dark, for 3 seconds, before anything moves at full speed."),
  BLANK,
  ...said("Stand clear.", "strong"),
  BLANK,
  ...said(`Then: ${stepInWords(stepAt(session.job, next.index))}.`),
  ...said(`Stop it all: ${anyOf(plan.stop)}. Area not clear: ${keyWords(plan.letters.undo)}.`),
];
