import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { faultyInWords, nothingWrong, suspectsInWords, unnamedInWords } from "../reports/rack-sheet.ts";
import { memberAt, type RackStageOf } from "../run/batch/batch.ts";
import { type StateAtEnd, stateAtEnd, watchedIn } from "../run/batch/members.ts";
import { unnamedPresses } from "../run/batch/which.ts";
import { stepAt, stepInWords } from "../run/session/job.ts";
import type { StageOf } from "../run/session/session.ts";
import { personRows } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { AloneSight, Sight } from "./sight.ts";
import { isKept, resultsTally } from "./step-words.ts";
import { type AroundList, BLANK, capital, type Line, said, toAnswer } from "./view.ts";

/** The page of a break: the fixture is dark and stands still. */
export const pausedRows = (sight: AloneSight, { why, next }: StageOf<"paused">): readonly Line[] => {
  const { session, plan } = sight;
  const step = capital(stepInWords(stepAt(session.job, next.index)));
  return [
    ...said(
      why === "away"
        ? `The fixture is dark and stands still. ${step} starts again from its beginning.`
        : `The fixture is dark and stands still. ${step} continues from there.`,
    ),
    ...said("Before it moves you confirm the area. Then a slow movement comes first."),
    BLANK,
    ...toAnswer(said(`${keyWords(plan.own["go-on"])}: I am here, continue.`, "strong")),
    ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ...personRows(sight),
  ];
};

/** The last page of a run: how it ended, what came of the steps, and whether everything is saved. */
export const finishedRows = (sight: AloneSight, { how }: StageOf<"finished">): readonly Line[] => {
  const { session } = sight;
  const kept = isKept(session, session.view.count);
  return [
    ...said(HOW[how]),
    BLANK,
    ...said(`${resultsTally(session)}.`, "strong"),
    ...said(kept ? "Everything is saved." : "Not everything is saved yet."),
    BLANK,
    ...said("The fixture goes dark and stays where it is. The job sheet follows."),
  ];
};

const FAILED = "The run cannot continue. What is saved stays saved.";
const HOW = {
  finished: "All steps are answered.",
  stopped: "Stopped before the end. Your answers are saved; the other steps are not asked.",
  failed: FAILED,
} as const;
const HOW_ALL_ENDED = { stopped: "Stopped before the end. Your answers are saved. You can resume it.", failed: FAILED };

/** The page while faults are calculated. A second at most; keys wait as well. */
export const diagnosingRows = ({ plan }: AloneSight): readonly Line[] => [
  ...said("Limber calculates the likely faults. It continues by itself."),
  BLANK,
  ...said(`Stop it all: ${anyOf(plan.stop)}.`),
];

/** The page while one DMX line is being opened, or several. */
export const openingRows = (lines: "one line" | "several lines"): readonly Line[] =>
  said(lines === "one line" ? "Opening the DMX line ..." : "Opening the DMX lines ...");

/** The page of a break: everything dark and still. */
export const pausedOfAll = (sight: Sight): AroundList => {
  const { batch, plan, desk } = sight;
  const { picked, entry } = desk;
  const name = picked === undefined ? "" : safeText(placeInWords(memberAt(batch, picked).place));
  const choice = [
    ...said(`${capital(name)}, ${picked === undefined ? "" : safeText(memberAt(batch, picked).serial)}:`, "strong"),
    ...said(
      `${anyOf(plan.press)}: it is removed. ${anyOf(plan.again)}: it is replaced by another of its kind and mode, at its address. Any other key: cancel.`,
    ),
  ];
  const usual = [
    ...toAnswer(said(`${keyWords(plan.own["go-on"])}: continue. You confirm the area first.`, "strong")),
    ...said(`Remove or replace a fixture: press its letter. Stop it all: ${anyOf(plan.stop)}.`),
  ];
  return {
    above: said("Dark and still. Your answers are saved. Switch its mains off before you unplug a fixture."),
    below: entry ? [] : picked === undefined ? usual : choice,
  };
};

/** The last page of a rack run: how it ended, and what was seen and not seen. */
export const finishedOfAll = ({ batch }: Sight, { how }: RackStageOf<"finished">): AroundList => {
  const states = batch.members.map(stateAtEnd);
  const many = (state: StateAtEnd) => states.filter((one) => one === state).length;
  const unnamed = unnamedPresses(batch);
  return {
    above: [
      ...said(how === "finished" ? finishedWords(many("not watched")) : HOW_ALL_ENDED[how]),
      ...(many("fault seen") + many("suspect") + unnamed.length === 0
        ? said(nothingWrong(watchedIn(batch)), "strong")
        : []),
      ...(many("fault seen") === 0 ? [] : said(`${faultyInWords(many("fault seen"))}.`, "strong")),
      ...(many("suspect") === 0 ? [] : said(`${suspectsInWords(many("suspect"))}.`, "strong")),
      ...unnamed.flatMap((one) => said(safeText(unnamedInWords(one)), "strong")),
    ],
    below: said("All go dark and stay where they are. The list follows."),
  };
};

const finishedWords = (notWatched: number): string =>
  notWatched === 0
    ? "Every fixture has been watched."
    : `${notWatched === 1 ? "One fixture was" : `${notWatched} fixtures were`} not watched: nothing can be said of ${notWatched === 1 ? "it" : "them"}.`;

/** The page before the suspects are looked at one by one. */
export const betweenOfAll = (sight: Sight, { odd }: RackStageOf<"between">): AroundList => {
  const { batch, plan } = sight;
  const [first] = odd;
  const name = first === undefined ? "" : safeText(placeInWords(memberAt(batch, first).place));
  const count = odd.length === 1 ? "1 suspect" : `${odd.length} suspects`;
  const words = `${count}. Now each one moves alone, slowly, one function at a time: only what you pressed for. All others stand dark and still. First: ${name}.`;
  return {
    above: said(words),
    below: [
      ...toAnswer(said(`${keyWords(plan.own["one-by-one"])}: continue.`, "strong")),
      ...said(`Stop here: ${anyOf(plan.stop)}. You can resume it another day.`),
    ],
  };
};

/** The page that asks for an address of its own for a fixture that shares one. */
export const addressOfAll = (sight: Sight, { member, free }: RackStageOf<"own-address">): AroundList => {
  const { batch, plan } = sight;
  const { spot, serial } = memberAt(batch, member);
  const others = batch.members.filter(
    (one) => one.serial !== serial && one.spot.universe === spot.universe && one.spot.address === spot.address,
  ).length;
  const panel =
    free === undefined
      ? `Universe ${spot.universe} has no room for another address.`
      : `${keyWords(plan.own["own-address"])}: its panel now shows address ${free}, universe ${spot.universe}.`;
  return {
    above: [
      ...said(
        `It shares address ${spot.address} with ${others === 1 ? "one other" : `${others} others`}, which would move with it.`,
      ),
      ...said("It stands dark and still; keep out of its swing, and your hands off everything but the panel."),
    ],
    below: [
      ...toAnswer(said(panel, "strong")),
      ...said(`${anyOf(plan.again)}: I unplugged the data of all others instead.`),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};
