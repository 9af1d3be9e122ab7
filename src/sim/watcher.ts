import type { InspectionId } from "../domain/trade/inspections.ts";
import { framesIn, type Seconds } from "../domain/units.ts";
import { type Batch, lookedAtAlone, markedFor } from "../run/batch/batch.ts";
import { isAdded } from "../run/events/view.ts";
import type { RackInput, WatcherInput } from "../run/machine/input.ts";
import type { Watcher } from "../run/ports.ts";
import { questionOf, type Session, type Stage } from "../run/session/session.ts";
import type { SimLine } from "./line.ts";
import type { Observer, WatcherReport } from "./observer/observer.ts";

const NOTHING: WatcherReport = { symptoms: [], sure: true };

/** Longer than it takes to warm a head up it does not wait. */
const PATIENCE_S: Seconds = 900;

type Offers = Extract<Stage, { kind: "what-next" }>["offers"];

/** What it would do of what is offered: whatever it can look at without an instrument, and every test that it has the patience for. */
const wouldDo = (offer: Offers[number]): boolean => {
  if (offer.kind === "inspection") return offer.inspection !== MEASURED;
  if (offer.kind === "try-out") return offer.minutes * 60 <= PATIENCE_S;
  return offer.kind === "driven" && offer.seconds <= PATIENCE_S;
};

/** The one inspection that is a measurement. */
const MEASURED: InspectionId = "earth-continuity";

/**
 * Before mains returns to what was worked on, a hot lamp has cooled so far that it strikes again; the longest waits are
 * some minutes. Judgement.
 */
const COOLS_S: Seconds = 600;

/**
 * The simulated person at the bench: watches one simulated fixture through the observer's eyes and ears, and answers the
 * session as a person would, by the same inputs. It reads questions and steps, never what is known or set. It watches whoever
 * is looked at alone.
 */
export class SimulatedWatcher implements Watcher {
  private readonly line: SimLine;
  private readonly observer: Observer;
  private readonly which: number;
  private tell: (input: RackInput) => void = () => {};
  private run = "";
  private question: string | undefined;
  private watching: { readonly index: number; presses: number } | undefined;
  private readonly reports = new Map<number, WatcherReport>();
  private stopWatching = () => {};

  private readonly hands: Hands;
  /** How much of what is offered it still does. */
  private followUps: number;
  private readonly chosen: InspectionId[] = [];

  constructor(line: SimLine, observer: Observer, which = 0, hands: Hands = IDLE, followUps = 0) {
    this.line = line;
    this.hands = hands;
    this.followUps = followUps;
    this.observer = observer;
    this.which = which;
  }

  listen(tell: (input: RackInput) => void): void {
    this.tell = tell;
    this.stopWatching = this.line.scenes((comparisons) => {
      const now = comparisons[this.which];
      const presses = now ? this.observer.see(now.scene, now.twin) : 0;
      for (let n = 0; n < presses; n++) this.press();
    });
  }

  show(batch: Batch): void {
    const alone = lookedAtAlone(batch);
    if (!alone) return;
    const { run, session } = alone;
    this.run = run;
    const question = questionOf(session);
    if (question === this.question) return;
    this.question = question;
    const late = this.endStep();
    const { stage } = session;
    if (stage.kind === "moving") this.beginStep(stage, late);
    else if (stage.kind === "asking") this.judge(stage.index, question ?? "");
    else if (stage.kind === "by-hand") this.work(session, stage.task, question ?? "");
    else if (stage.kind === "what-next") this.follow(stage.offers, question ?? "");
    else {
      if (isPowerReturning(session)) this.line.pass(framesIn(COOLS_S));
      this.agree(stage, question);
    }
  }

  /** The inspections that it has chosen of what was offered, and those that followed behind the same cover, in their order. */
  get inspections(): readonly InspectionId[] {
    return this.chosen;
  }

  private work(session: Session, task: TaskByHand, answers: string): void {
    if (task.kind === "look" && task.inspection === session.chosen) this.chosen.push(session.chosen);
    for (const input of answersByHand(session, task, answers, this.hands)) this.answer(input);
  }

  /** Does the first of what is offered that it would do, test or inspection, as often as it wants to; then goes on. */
  private follow(offers: Offers, answers: string): void {
    const offer = offers.findIndex(wouldDo);
    const first = offers[offer];
    if (this.followUps <= 0 || first === undefined) {
      this.answer({ kind: "confirm", answers });
      return;
    }
    this.followUps -= 1;
    this.answer({ kind: "choose", answers, offer });
  }

  close(): void {
    this.stopWatching();
  }

  private answer(input: WatcherInput): void {
    this.tell(markedFor(this.run, input));
  }

  /** Agrees to whatever a person would agree to; what moved instead it leaves to people. */
  private agree(stage: Session["stage"], question: string | undefined): void {
    const waits =
      stage.kind === "slow-start" ||
      stage.kind === "stirring" ||
      stage.kind === "diagnosing" ||
      (stage.kind === "line-lost" && !stage.back);
    if (waits || question === undefined) return;
    const leaves = stage.kind === "what-moved" || stage.kind === "setting-found";
    this.answer({ kind: leaves ? "decline" : stage.kind === "paused" ? "go-on" : "confirm", answers: question });
  }

  private press(): void {
    if (this.watching && this.question !== undefined) {
      this.watching.presses++;
      this.answer({ kind: "press", answers: this.question });
    }
  }

  private beginStep(stage: Extract<Session["stage"], { kind: "moving" }>, late: boolean): void {
    const { index, step } = stage;
    this.watching = { index, presses: 0 };
    this.observer.begin({ functions: step.functions, routine: step.routine, frames: step.frames });
    this.answer(late ? { kind: "press", answers: this.question ?? "" } : { kind: "here" });
  }

  /** True when something was noticed only as the step ended: the press then comes in the next step's first moments. */
  private endStep(): boolean {
    if (!this.watching) return false;
    const { index, presses } = this.watching;
    const report = this.observer.end();
    this.reports.set(index, report);
    this.watching = undefined;
    return presses === 0 && report.symptoms.length > 0;
  }

  private judge(index: number, answers: string): void {
    const { symptoms, sure } = this.reports.get(index) ?? NOTHING;
    for (const { symptom, function: id } of symptoms)
      this.answer({ kind: "symptom", answers, symptom: id === undefined ? { symptom } : { symptom, function: id } });
    this.answer({ kind: "judge", answers, result: sure ? (symptoms.length > 0 ? "fail" : "pass") : "unsure" });
  }
}

/** Mains is asked for again, for a test that was added after work by hand. */
const isPowerReturning = ({ stage, view }: Session): boolean =>
  stage.kind === "holding" && stage.point === "mains-on" && isAdded(view, stage.next.index);

type TaskByHand = Extract<Stage, { kind: "by-hand" }>["task"];
type Choices = Extract<TaskByHand, { kind: "fault" }>["choices"];

/** What simulated hands find; whoever set the faults knows. */
export interface Hands {
  readonly look: (id: InspectionId) => "good" | "bad";
  /** Which of these it is, with the part in the hand. */
  readonly name: (choices: Choices) => Choices[number] | undefined;
}

/** Finds nothing. */
const IDLE: Hands = { look: () => "good", name: () => undefined };

const INITIALS = "SIM";

/**
 * How the simulated person answers what is asked by hand. It confirms, looks, cleans and mends; it takes no readings and
 * signs nothing: those are a competent person's.
 */
const answersByHand = (
  { person }: Session,
  task: TaskByHand,
  answers: string,
  hands: Hands,
): readonly WatcherInput[] => [
  ...(person === "" ? [{ kind: "person", initials: INITIALS } as const] : []),
  answerTo(task, answers, hands),
];

const answerTo = (task: TaskByHand, answers: string, hands: Hands): WatcherInput => {
  switch (task.kind) {
    case "look":
      return { kind: "judge", answers, result: hands.look(task.inspection) === "good" ? "pass" : "fail" };
    case "looks":
      return answerToLooks(task, answers, hands);
    case "dirt":
      return { kind: "choose", answers, offer: 1 };
    case "cleans":
    case "clean":
      return { kind: "judge", answers, result: "pass" };
    case "reading":
      return { kind: "judge", answers, result: "not-asked" };
    case "fault":
      return { kind: "name-fault", answers, fault: hands.name(task.choices) ?? "nothing" };
    case "blocked":
    case "once-more":
      return { kind: "decline", answers };
    case "hold-point":
    case "mend":
    case "sign":
      return { kind: "confirm", answers };
    default:
      return task satisfies never;
  }
};

/** What is bad is picked out first. */
const answerToLooks = (
  { inspections }: Extract<TaskByHand, { kind: "looks" }>,
  answers: string,
  hands: Hands,
): WatcherInput => {
  const offer = inspections.findIndex((id) => hands.look(id) === "bad");
  return offer < 0 ? { kind: "judge", answers, result: "pass" } : { kind: "choose", answers, offer };
};
