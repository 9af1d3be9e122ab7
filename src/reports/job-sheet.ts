import type { Profile } from "../data/profile/profile.ts";
import type { FaultId } from "../diagnosis/model/knowledge/faults.ts";
import type { Advice } from "../diagnosis/model/next.ts";
import type { Ranked, Ranking } from "../diagnosis/model/rank.ts";
import { type Known, USUAL } from "../diagnosis/places/known.ts";
import { timedWords } from "../diagnosis/places/stopwatch.ts";
import { functionWords } from "../domain/trade/functions.ts";
import type { InspectionId } from "../domain/trade/inspections.ts";
import { sourceCaution } from "../domain/trade/mechanisms.ts";
import type { RigOfRun } from "../run/events/attempts.ts";
import { type ChainHead, printedHead } from "../run/events/chain.ts";
import type { RunEvent } from "../run/events/event.ts";
import { isWaitSpared, resultOf, type TimedFunction, timedAt } from "../run/events/step-results.ts";
import type { RunView } from "../run/events/view.ts";
import { type ReleaseStatus, type Verdict, verdictOf } from "../run/release/release-status.ts";
import type { Compared } from "./before-after.ts";
import { byHandInWords } from "./by-hand-words.ts";
import { saidInWords } from "./fixture-said.ts";
import { adviceInWords, nextInWords } from "./next-words.ts";
import { type SheetStep, sheetStep, type Where, wherePressed } from "./sheet-step.ts";
import { releaseStatusInWords } from "./status-words.ts";

/** The page a run leaves for a fixture, as data: the text, the JSON and the pages are made from this. */
export interface JobSheet {
  readonly fixture: { readonly serial: string; readonly universe: number; readonly address: number };
  readonly profile: string;
  readonly sequence: string;
  readonly run: string;
  /** When it began: ISO 8601, UTC. */
  readonly begun: string;
  /** Everyone who answered or pressed, by initials. */
  readonly people: readonly string[];
  readonly simulated: boolean;
  /** Faults that were set in the simulated fixture, by the names that the program has for them. */
  readonly set: readonly string[];
  /** What each of these is, and its place among the faults that are printed. */
  readonly setFound: readonly SetFound[];
  /** What may be done with the fixture now: printed first. */
  readonly verdict: Verdict;
  /** What the level of a released fixture asks for next, and when; empty where nothing is due besides every return. */
  readonly dueNext: string;
  readonly ended: "finished" | "stopped" | "failed" | "abandoned" | "open";
  readonly replays: string | undefined;
  readonly steps: readonly SheetStep[];
  readonly rig: RigOfRun;
  readonly faults: readonly SheetFault[];
  /** Where in the travel it happened, of every function that failed and was pressed. */
  readonly where: readonly Where[];
  /** How long functions took from end to end, where they were timed. */
  readonly timed: readonly string[];
  /** How quick the person who pressed is known to be, and from how much; undefined while nothing is. */
  readonly quickness: string | undefined;
  /** What to do next to be sure, the quickest way first. */
  readonly next: readonly string[];
  readonly warnings: readonly string[];
  /** What the fixture said of itself over RDM, its sensors drawn; empty where it was not asked. */
  readonly itself: readonly string[];
  /** What was done by hand: inspections, cleaning, measurements, what was found and repaired. */
  readonly byHand: readonly string[];
  /** What became of every movement of a replay; empty for other runs. */
  readonly compared: readonly Compared[];
  /** The status of the fixture over all its runs, then what blocks its release. Only after work by hand or a replay. */
  readonly standing: readonly string[];
  /** The one command that comes next, in a sentence; empty where nothing is to be done. */
  readonly finish: string;
  /** What its source of light may do to people, beside the usual cautions; empty where there is nothing. */
  readonly caution: string;
  /** The last event of the journal when the sheet was made, as it is printed; undefined where nothing was kept. */
  readonly journal: string | undefined;
}

export interface SheetFault {
  readonly id: string;
  readonly title: string;
  readonly belief: string;
  readonly probability: number;
  readonly because: readonly string[];
  readonly against: readonly string[];
  readonly todo: string;
}

/** How many faults a sheet holds at most: the first of them, and all that are not remote. */
const MOST_FAULTS = 8;

export interface SetFound {
  readonly id: string;
  readonly words: string;
  /** Counted from 1; undefined where it is not among them. */
  readonly place: number | "repaired" | undefined;
}

/** The ranked faults worth a line on paper: the first always, others while worth a thought; "limber faults" has all. */
export const worthReading = (faults: readonly SheetFault[]): readonly SheetFault[] =>
  faults.filter(({ probability }, index) => index === 0 || probability >= WORTH_A_THOUGHT).slice(0, MOST_READ);
const WORTH_A_THOUGHT = 0.05;
const MOST_READ = 5;
const WORTH_SHOWING = 0.02;

/** What the journal's envelopes say of a run. */
export type Kept = Pick<JobSheet, "run" | "begun" | "people">;

/** What the events themselves say of a run: its id, when it began, and who worked on it. */
export const keptOf = (events: readonly RunEvent[]): Kept => ({
  run: events[0]?.run ?? "",
  begun: events[0]?.at ?? "",
  people: [...new Set(events.map(({ person }) => person))].filter(Boolean),
});

/** A fault that was set in the simulated fixture. */
interface HiddenFault {
  /** As one would say it with the part in the hand. */
  readonly words: string;
  readonly right: readonly FaultId[];
}

/** What is calculated from more than the run's own events. */
export interface Around {
  readonly ranking: Ranking;
  readonly advice: Advice;
  readonly known?: Known;
  readonly compared?: readonly Compared[];
  readonly standing: ReleaseStatus;
  /** Inspections that are good by the latest answer in any run of the fixture. */
  readonly clear?: ReadonlySet<InspectionId>;
  readonly head?: ChainHead | undefined;
  readonly dueNext?: string;
  /** What the last added test did to the first place. */
  readonly change?: string;
  /** What a fault is that was set in the simulated fixture, and which answers are right for it. */
  readonly hidden: (set: string) => HiddenFault;
}

/** The job sheet of a run as data: what was seen, what explains it, what to do next, whether the fixture may leave. */
export const jobSheetOf = (kept: Kept, view: RunView, profile: Profile, around: Around): JobSheet => {
  const { opened } = view;
  const { ranking, advice, known = USUAL, compared = [], standing, head } = around;
  const { clear = new Set(), dueNext = "", change = "" } = around;
  if (!opened) throw new Error("Bug: a job sheet for a run that never opened");
  const faults = faultsIn(view, ranking);
  const verdict = verdictOf(standing);
  return {
    fixture: opened.fixture,
    profile: opened.profile.name,
    sequence: opened.sequence.name,
    ...kept,
    simulated: opened.simulated,
    set: opened.set,
    setFound: foundOf(view, opened.set, faults, around.hidden),
    verdict,
    dueNext,
    ended: view.closed ?? "open",
    replays: opened.replays,
    steps: view.steps.filter((_, index) => !isWaitSpared(view, index)).map(sheetStep),
    rig: view.rig,
    faults,
    where: wherePressed(view, profile, known),
    timed: view.steps.flatMap((_, index) => timedInWords(timedAt(view, profile, index, known))),
    quickness: known.words,
    next: wasSeen(view)
      ? [...(change === "" ? [] : [change]), ...adviceInWords(advice)]
      : ["not watched: nothing can be said of it"],
    itself: saidInWords(view),
    byHand: byHandInWords(view),
    compared,
    standing: isWorkedOn(view) ? releaseStatusInWords(standing) : [],
    finish: isWorkedOn(view) ? nextInWords(opened.fixture.serial, standing.reasons) : "",
    caution: sourceCaution(profile.lamp.kind),
    journal: head && printedHead(head),
    warnings: [
      ...ranking.warnings.filter((one) => isRelevant(one, view, verdict, clear)).map(({ say }) => say),
      ...ranking.leftOut.map((one) => `left out of the calculation: ${one}`),
      ...ranking.unexplained.map((one) => `not explained by anything known: ${one}`),
    ],
  };
};

const faultsIn = (view: RunView, ranking: Ranking): readonly SheetFault[] =>
  (wasSeen(view) ? ranking.faults : [])
    .filter((fault) => !isRepaired(view, fault))
    .filter(({ probability }, index) => index < 3 || probability >= WORTH_SHOWING)
    .slice(0, MOST_FAULTS)
    .map(sheetFault);

const foundOf = (
  { repaired }: RunView,
  set: readonly string[],
  faults: readonly SheetFault[],
  hidden: Around["hidden"],
): readonly SetFound[] => {
  const printed = worthReading(faults);
  return set.map((id) => {
    const { words, right }: { words: string; right: readonly string[] } = hidden(id);
    if (repaired.some((one) => one.what === "fault" && right.includes(one.fault)))
      return { id, words, place: "repaired" };
    const place = printed.findIndex((fault) => right.includes(fault.id));
    return { id, words, place: place < 0 ? undefined : place + 1 };
  });
};

/** Somebody watched a step of it, or looked at something by hand. */
const wasSeen = ({ steps, inspected }: RunView): boolean =>
  inspected.length > 0 || steps.some((step) => ["pass", "fail", "unsure"].includes(resultOf(step)));

/** What was repaired in this run explains what was seen before it, and is ranked no more. */
const isRepaired = ({ repaired }: RunView, { id }: Ranked): boolean =>
  repaired.some((repair) => repair.what === "fault" && repair.fault === id);

/** Whether a danger is worth a line: found, due in this run, or likely by the symptoms; not when it is good by any run of the fixture. */
const isRelevant = (
  { inspection, state, probability }: Ranking["warnings"][number],
  view: RunView,
  verdict: Verdict,
  clear: ReadonlySet<InspectionId>,
): boolean => {
  if (clear.has(inspection)) return false;
  return (
    state === "found" || (verdict.kind !== "released" && (view.inspected.length > 0 || probability >= WORTH_A_WARNING))
  );
};
const WORTH_A_WARNING = 0.05;

/** A look at movements alone does not ask where the fixture stands. */
const isWorkedOn = ({ opened, confirmed, inspected, decisions }: RunView): boolean =>
  opened?.replays !== undefined ||
  inspected.length > 0 ||
  decisions.length > 0 ||
  confirmed.some(({ point }) => point === "cover-removed");

/** "pan: on the way up (DMX rising) 4.1 s, plus or minus 0.2 s (6 presses); should be 2.9 s: slower than it should be". */
const timedInWords = (timed: TimedFunction | undefined): readonly string[] =>
  timed ? timed.times.map((one) => `${functionWords(timed.function)}: ${timedWords(one)}`) : [];

const sheetFault = (fault: Ranked): SheetFault => ({
  id: fault.id,
  title: fault.title,
  belief: fault.belief,
  probability: fault.probability,
  because: fault.because,
  against: fault.against,
  todo: fault.kind === "fault" ? fault.remedy : "",
});
