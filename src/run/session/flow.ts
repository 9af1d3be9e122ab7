import { slowStart } from "../../plan/slow-moves.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { ReportedSymptom } from "../events/event.ts";
import { isSlow, isWaitSpared, timedAt } from "../events/step-results.ts";
import { isAdded } from "../events/view.ts";
import { dueBefore, type FirstDue } from "../machine/clearance.ts";
import { standingAt } from "../machine/commanded.ts";
import { andThen, ended, type HowEnded, stay, withEffects } from "../machine/running.ts";
import { chosenDue, endTask, guardOf, handDue, isBehindIsolation } from "./by-hand/due.ts";
import { coversOff } from "./by-hand/holds.ts";
import type { HandTask } from "./by-hand/task.ts";
import { attemptAt, type Change, write } from "./change.ts";
import { askForDiagnosis, DIAGNOSIS_FIRST, diagnosisNow, groundOf, offersIn, wantsAdvice } from "./diagnosing.ts";
import { knownIn, type Next, stepAt } from "./job.ts";
import { judgeSilence, openIn, type Watched } from "./judging.ts";
import { play, stir } from "./playing.ts";
import type { Played, Session, Stirs } from "./session.ts";

/** How long a group lasts, about, where a run goes on by itself before the person is asked; a quick check fits into one. */
const GROUP_SECONDS = 200;
/** Longer than anybody watches without a sign of life, and what follows is worth nothing when it went wrong: asked about by itself. */
const ASKED_BY_ITSELF: readonly string[] = ["power-up", "soak"];

/** Goes on to whatever is due: questions about the group, else the next step, else the end. */
export const goOn = (session: Session): Change => {
  if (session.chosen) return atHand(session, chosenDue(session, session.chosen));
  const next = nextOpen(session);
  const task = handDue(session, next);
  const due = next === undefined || task !== undefined || groupIsDue(session, next) || isUnwatched(session, next);
  if (due && session.group.length > 0) return askGroup(session);
  if (task === DIAGNOSIS_FIRST) return askForDiagnosis(session, { kind: "go-on" });
  if (task) return byHand(session, task);
  return next === undefined ? finishing(session) : towards(session, { index: next, frame: 0, pace: 1, lost: false });
};

/** Begins work by hand, dark and still; before the fixture is isolated for it, what could still be driven is offered. */
const byHand = (session: Session, task: HandTask): Change =>
  isBehindIsolation(task) ? orAdvice(session, "by a movement", () => atHand(session, task)) : atHand(session, task);

const atHand = (session: Session, task: HandTask): Change =>
  withEffects({ ...session, stage: { kind: "by-hand", task } }, { kind: "go-dark" });

/** The first fitted step that is neither judged nor waiting to be answered for, and that somebody would still wait for. */
const nextOpen = ({ job, view, group }: Session): number | undefined => {
  const index = view.steps.findIndex(
    (step, at) =>
      step.judged === undefined &&
      stepAt(job, at).fitted &&
      !group.some((played) => played.index === at) &&
      !isWaitSpared(view, at),
  );
  return index < 0 ? undefined : index;
};

const groupIsDue = (session: Session, next: number): boolean => {
  const { group, job, view } = session;
  if (job.opening.mode === "attended") return group.length > 0;
  if (isIdentifiedNext(session, next)) return false;
  const length = group.reduce((sum, { start, end }) => sum + end - start, 0);
  return length >= GROUP_SECONDS || group.some(({ index }) => isAskedByItself(session, index) || isAdded(view, index));
};

/** It came up: whether it also hears is seen in a few seconds, and asked about on the same page. */
const isIdentifiedNext = ({ group, job }: Session, next: number): boolean =>
  stepAt(job, next).routine === "identify" &&
  group.length === 1 &&
  group.every(({ index }) => stepAt(job, index).routine === "power-up");

/**
 * The silent steps that are answered on the page of a step that is asked by itself. `index` is
 * that step's place in the run, from 0.
 */
export const answeredWith = (session: Session, index: number): readonly Played[] =>
  isAskedByItself(session, index)
    ? openIn(session).filter((played) => played.index !== index && !mustAsk(session, played))
    : [];

const isAskedByItself = ({ job }: Session, index: number): boolean =>
  ASKED_BY_ITSELF.includes(stepAt(job, index).routine);

/** Whether what moves just now will be judged by silence, which wants a sign of life a minute; what is asked about by name does not. */
export const isSilenceCounted = (session: Session): boolean =>
  session.stage.kind === "moving" &&
  ![session.stage.index, ...session.group.map(({ index }) => index)].some((index) => isAskedByItself(session, index));

/** Nobody stands by for it: what came before is answered for before it begins. */
const isUnwatched = ({ job }: Session, index: number): boolean => stepAt(job, index).routine === "soak";

/** Asks about the steps of a group: the pressed ones one by one, then the silent ones together. */
export const askGroup = (session: Session): Change => {
  const open = openIn(session);
  const asked = open.find((played) => mustAsk(session, played));
  if (asked) return askAbout(session, asked.index);
  if (open.length > 0)
    return stay({ ...session, stage: { kind: "confirming", indexes: open.map(({ index }) => index) } });
  return goOn({ ...session, group: [], markedWrong: [], signs: session.signs.slice(-1) });
};

/**
 * Asks what came of one step; in a group also where somebody says that it was not as it should be. `index`
 * is the step's place in the run, from 0.
 */
export const askAbout = (session: Session, index: number): Change => {
  const attempt = attemptAt(session, index);
  return stay({
    ...session,
    stage: { kind: "asking", index, attempt, symptoms: measuredSymptoms(session, index), note: "" },
  });
};

/** What was timed and is slow is named already: ENTER agrees, and it can be undone like any other. */
const measuredSymptoms = (session: Session, index: number): readonly ReportedSymptom[] => {
  const timed = timedAt(session.view, session.job.timeline.profile, index, knownIn(session));
  return timed && isSlow(timed) ? [{ symptom: "slow", function: timed.function }] : [];
};

const mustAsk = (session: Session, { index }: Played): boolean =>
  session.job.opening.mode === "attended" ||
  (session.view.steps[index]?.presses.length ?? 0) > 0 ||
  isAskedByItself(session, index) ||
  session.markedWrong.includes(index) ||
  // What somebody chose to play is asked about.
  isAdded(session.view, index);

/** Takes an answer about all steps that were silent. */
export const confirmSilence = (session: Session, was: Watched): Change =>
  andThen(judgeSilence(session, openIn(session), was), askGroup);

/**
 * Takes that the marked steps were wrong and all others were watched and good; then asks about each of the marked. `wrong`
 * are the marked steps' places in the run, from 0.
 */
export const confirmAllBut = (session: Session, wrong: readonly number[]): Change => {
  const marked: Session = { ...session, markedWrong: wrong };
  const good = openIn(session).filter(({ index }) => !wrong.includes(index));
  return andThen(judgeSilence(marked, good, "there"), askGroup);
};

/** Goes towards a step: through the hold points and the slow movement where they are due. */
export const towards = (session: Session, next: Next, stirs: Stirs = undefined): Change => {
  const step = stepAt(session.job, next.index);
  const guard = guardOf(session, next);
  if (guard) return atHand(session, guard);
  const due = dueHere(session, step, next);
  if (due === undefined) return arrive(session, next, stirs);
  return due === "slow-start"
    ? beginSlowly(session, next, stirs)
    : stay({ ...session, stage: { kind: "holding", point: due, next, stirs } });
};

/** Whoever switches the mains on confirms the area on the same page, at that moment. */
const dueHere = (session: Session, { routine }: CompiledStep, { frame }: Next): FirstDue | undefined => {
  const powersUp = routine === "power-up";
  return powersUp && frame === 0 ? "mains-on" : dueBefore(session, powersUp, frame);
};

/** Plays a step when nothing comes before it any more. */
export const arrive = (session: Session, next: Next, stirs: Stirs): Change =>
  stirs ? stir(session, next.index, stirs) : play(session, next);

const beginSlowly = (session: Session, next: Next, stirs: Stirs): Change => {
  const moving: Session = { ...session, stage: { kind: "slow-start", next, stirs } };
  return withEffects(
    moving,
    { kind: "say", words: "Slow movement first. Stand clear." },
    { kind: "play", key: `slow-start:${next.index}`, step: slowStartOf(session), from: 0 },
  );
};

/**
 * The slow movement from where the fixture was last commanded to stand, in an earlier part of the run too; where nothing
 * was sent yet, from its rest state. The pages say what is not known.
 */
export const slowStartOf = ({ job, commanded, leftAt }: Session): CompiledStep => {
  const stood = commanded.stands ?? leftAt;
  return stood ? slowStart(job.timeline.profile, standingAt(stood)) : job.slowStart;
};

/** All planned steps are answered: what could tell more is offered while somebody watches, then it ends. */
const finishing = (session: Session): Change =>
  orAdvice(session, "by anything", () => {
    const task = endTask(session);
    return task ? atHand(session, task) : end(session, "finished");
  });

/** Offered until nobody wants any more; while a cover is off, what is worth it behind that follows by itself. Where it is about to be opened anyway, only together with something that wants power. */
const orAdvice = (session: Session, by: "by a movement" | "by anything", otherwise: () => Change): Change => {
  if (!wantsAdvice(session)) return otherwise();
  const diagnosis = diagnosisNow(session);
  if (!diagnosis) return askForDiagnosis(session, { kind: "go-on" });
  const offers = offersIn(session, diagnosis);
  const [first] = offers;
  if (session.inOneGo > 0 && first?.kind === "inspection" && coversOff(session).includes(first.cover))
    return goOn({ ...session, chosen: first.inspection, inOneGo: session.inOneGo - 1 });
  return offers.some(({ kind }) => by === "by anything" || kind !== "inspection")
    ? withEffects(
        {
          ...session,
          inOneGo: 0,
          stage: { kind: "what-next", offers, change: diagnosis.change, ground: groundOf(diagnosis) },
        },
        { kind: "go-dark" },
      )
    : otherwise();
};

/** Ends the run in any way; the journal is told. */
export const end = (session: Session, how: HowEnded): Change =>
  ended(session, how, (s) => write(s, { kind: "run-closed", how }));
