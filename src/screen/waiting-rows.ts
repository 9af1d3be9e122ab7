import { safeText } from "../problem/terminal.ts";
import { hanging } from "../report/wrap.ts";
import { longestSilence, MOST_SILENCE_S } from "../session/flow.ts";
import { stepAt } from "../session/job.ts";
import type { Next, Session, Stage } from "../session/session.ts";
import { stepInWords } from "../session/words.ts";
import { holdPointWords } from "../trade/hold-points.ts";
import { entryRows } from "./asking-rows.ts";
import { isKept, tallyOf } from "./judged-words.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { asRow, BLANK, MARGIN, type Row, said } from "./rows.ts";
import type { Sight } from "./sight.ts";
import { spanInWords } from "./time-words.ts";

type Of<K extends Stage["kind"]> = Extract<Stage, { kind: K }>;

/** A safety point. The maker's manual and local rules go before these words; common practice, no source. */
export const holdingRows = (sight: Sight, { point, next }: Of<"holding">): readonly Row[] => {
  const { plan, size, session } = sight;
  const yes = `${anyOf(["enter", ...plan.press])}`;
  const points =
    point === "before-moving"
      ? [
          `- ${holdPointWords("area-clear")}`,
          "- pan and tilt transport locks off, plug and cord whole, fixture stands firm; if it hangs: safety bond on",
          "- nobody looks into the lens; anybody whom flashing light could harm has been told",
          "- stopping here is not an emergency stop: the mains isolator is",
        ]
      : [
          "Stand clear: it moves by itself as soon as it has power.",
          `It takes about ${spanInWords(session.job.timeline.profile.powerUp)} to find its home, then the light comes.`,
        ];
  return [
    ...points.flatMap((words) => [...item(words, size.columns), BLANK]),
    ...said(`Then: ${stepInWords(stepAt(session.job, next.index))}.`, size.columns, "faint", 1),
    BLANK,
    ...said(
      point === "before-moving" ? `${yes}: all of this is so.` : `${yes} at the moment the mains goes on.`,
      size.columns,
      "strong",
    ),
    ...said(`Not so: ${anyOf(plan.stop)} stops it all.`, size.columns),
    ...personRows(sight),
  ];
};

/** Lines under a dash are set in. */
const item = (words: string, columns: number): readonly Row[] =>
  words.startsWith("- ")
    ? hanging("- ", words.slice(2), columns - 2 * MARGIN).map((line) => asRow(line))
    : said(words, columns);

export const slowRows = ({ size, plan, session }: Sight, { next }: Of<"slow-start">): readonly Row[] => [
  ...said(
    "Pan and tilt move a little, slowly and dark, for 3 seconds, before anything moves at full speed.",
    size.columns,
  ),
  BLANK,
  ...said("Stand clear.", size.columns, "strong"),
  BLANK,
  ...said(`Then: ${stepInWords(stepAt(session.job, next.index))}.`, size.columns),
  ...said(`Stop it all: ${anyOf(plan.stop)}.`, size.columns),
];

/** Silence counts only when somebody says that it was watching. */
export const confirmingRows = (sight: Sight, { indexes }: Of<"confirming">): readonly Row[] => {
  const { session, plan, size } = sight;
  const names = (which: readonly number[]) => which.map((index) => stepInWords(stepAt(session.job, index))).join("; ");
  const uncovered = indexes.filter((index) => !wasThere(session, index));
  const { absent, undo, away } = plan.letters;
  return [
    ...said("Nothing was pressed in these steps:", size.columns),
    ...said(`${names(indexes)}.`, size.columns, "plain", 1).slice(0, 9),
    BLANK,
    ...said(
      uncovered.length > 0
        ? `! More than a minute without a key touched these, so they count as not watched: ${names(uncovered)}.`
        : "",
      size.columns,
      "alert",
    ).slice(0, 5),
    BLANK,
    ...said("ENTER: I watched all of these, nothing else was wrong.", size.columns, "strong"),
    ...said(`${keyWords(absent)}: I did not watch; none of these counts.`, size.columns, "strong"),
    ...said(
      `Take back the last answer: ${keyWords(undo)}. Leaving: ${keyWords(away)}. Stop it all: ${anyOf(plan.stop)}.`,
      size.columns,
    ),
    ...personRows(sight),
  ];
};

const wasThere = ({ group, signs }: Session, index: number): boolean => {
  const played = group.find((one) => one.index === index);
  return played !== undefined && longestSilence(signs, played) <= MOST_SILENCE_S;
};

export const pausedRows = (sight: Sight, { why, next }: Of<"paused">): readonly Row[] => {
  const { session, plan, size } = sight;
  const step = stepInWords(stepAt(session.job, next.index));
  return [
    ...said(
      why === "away"
        ? `It stands still and dark. ${step} starts again from its beginning, after the safety point.`
        : `It stands still where it was. ${step} goes on from there.`,
      size.columns,
    ),
    BLANK,
    ...said(`${anyOf(["enter", ...plan.press])}: I am here, go on.`, size.columns, "strong"),
    ...said(`Stop it all: ${anyOf(plan.stop)}.`, size.columns),
    ...personRows(sight),
  ];
};

export const lossRows = (sight: Sight, { words, back, next }: Of<"line-lost">): readonly Row[] => {
  const { session, plan, size } = sight;
  return [
    ...said(`! ${safeText(words)}`, size.columns, "alert"),
    BLANK,
    ...(back ? backRows(session, next, size.columns) : lostRows(size.columns)),
    BLANK,
    ...said(
      back ? `${anyOf(["enter", ...plan.press])}: I am here, the area is clear, go on.` : "",
      size.columns,
      "strong",
    ),
    ...said(`Stop it all: ${anyOf(plan.stop)}.`, size.columns),
    ...personRows(sight),
  ];
};

const lostRows = (columns: number): readonly Row[] =>
  said(
    "The fixture may stand as it stood last, lit or dark: nothing reaches it now. Look at plug, cable and interface; " +
      "the line is tried again every second, by itself.",
    columns,
  );

const backRows = ({ job }: Session, next: Next, columns: number): readonly Row[] =>
  said(
    `The line is back and the fixture dark. A slow movement comes first, then ${stepInWords(stepAt(job, next.index))} goes on from the same place.`,
    columns,
  );

export const finishedRows = (sight: Sight, { how }: Of<"finished">): readonly Row[] => {
  const { session, size } = sight;
  const kept = isKept(session, session.view.count);
  return [
    ...said(HOW[how], size.columns),
    BLANK,
    ...said(`${tallyOf(session)}.`, size.columns, "strong"),
    ...said(kept ? "All of it is kept." : "Not all of it is kept yet.", size.columns),
    BLANK,
    ...said("The fixture goes dark and still. The job sheet follows.", size.columns),
  ];
};

const HOW = {
  finished: "Every step has its answer.",
  stopped: "Stopped before the end. What was answered stays; the rest is not asked.",
  failed: "It cannot go on. What was kept stays kept.",
} as const;

export const openingRows = ({ size }: Sight): readonly Row[] => said("Opening the DMX line ...", size.columns);

const personRows = ({ desk, plan, session, size }: Sight): readonly Row[] =>
  desk.entry
    ? entryRows(desk.entry, size.columns)
    : said(
        `Watching: ${safeText(session.person)}. Somebody else: ${keyWords(plan.letters.person)}.`,
        size.columns,
        "faint",
        1,
      );
