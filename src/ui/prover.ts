import { performance } from "node:perf_hooks";
import type { Question } from "../data/profile/asking/ask.ts";
import type { Profile } from "../data/profile/profile.ts";
import type { Problem } from "../domain/problem/problem.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { type Frame, secondsOf } from "../domain/units.ts";
import type { CompiledStep } from "../plan/timeline.ts";
import { spanInWords } from "../reports/status-words.ts";
import { type Batch, markedFor, onlySession } from "../run/batch/batch.ts";
import { type Attention, guardedBy, heard, NOTHING_SHOWN, READ_MS, shownAt } from "../run/batch/guarded.ts";
import type { RackInput, WatcherInput } from "../run/machine/input.ts";
import type { Spectacle, Watcher } from "../run/ports.ts";
import { stepAt } from "../run/session/job.ts";
import { questionOf, type Session, type Stage } from "../run/session/session.ts";
import { expected, type ProofAnswer, questionFor } from "../run/verification/questions.ts";
import { pointsInWords } from "./holding-rows.ts";
import { anyOf, isKey, isOwn, keyPlan, keyWords } from "./key-plan.ts";
import { Lookout } from "./lookout.ts";
import type { TypedLines } from "./typed-lines.ts";

/**
 * The person who proves a profile, line by line: confirms the hold points, presses ENTER when something stands still, and
 * says after each step what moved or what it reached. The answers are kept here; the session only learns good or bad.
 */
export class Prover implements Watcher {
  /** Answers by their step; a new answer takes the place of the old one. */
  readonly answers = new Map<number, ProofAnswer>();
  private readonly lines: TypedLines;
  private readonly lookout: Lookout | undefined;
  private pass: (input: RackInput) => void = () => {};
  private session: Session | undefined;
  private run = "";
  private asked = "";
  private question: Question<ProofAnswer> | undefined;
  private attention: Attention = NOTHING_SHOWN;
  private soon: NodeJS.Timeout | undefined;
  private deaf: readonly (() => void)[] = [];

  constructor(lines: TypedLines, frame: () => Frame, spectacle: (() => Spectacle) | undefined) {
    this.lines = lines;
    this.lookout = spectacle && new Lookout(spectacle, frame, (words) => lines.say(words));
  }

  listen(pass: (input: RackInput) => void): void {
    this.pass = pass;
    this.deaf = [this.lines.each((line) => this.typed(line?.trim())), this.lines.keys((key) => this.key(key))];
  }

  show(batch: Batch): void {
    const session = onlySession(batch);
    this.run = batch.plan.run;
    this.session = session;
    const { stage } = session;
    const now = `${stage.kind} ${questionOf(session) ?? ""} ${stage.kind === "line-lost" && stage.back}`;
    if (now === this.asked) return;
    this.asked = now;
    this.question = undefined;
    clearTimeout(this.soon);
    this.attention = shownAt(this.attention, questionOf(session), performance.now());
    this.lookout?.watch(stage.kind === "moving" ? stage.step : undefined);
    if (SKIPPED.includes(stage.kind)) this.agree();
    else this.tell(session, stage);
  }

  private answer(input: WatcherInput): void {
    this.pass(markedFor(this.run, input));
  }

  close(): void {
    this.lookout?.watch(undefined);
    clearTimeout(this.soon);
    for (const stop of this.deaf) stop();
  }

  private tell(session: Session, stage: Stage): void {
    if (stage.kind === "holding")
      for (const point of pointsInWords(session, stage.point)) this.lines.say(`  - ${point}`);
    for (const words of provingInWords(session)) this.lines.say(words);
    if (stage.kind === "asking") for (const words of this.lookout?.report() ?? []) this.lines.say(words);
    this.soon = setTimeout(() => this.askNow(session, stage), READ_MS);
  }

  /** How to answer is said from the moment on in which an answer is taken. */
  private askNow(session: Session, stage: Stage): void {
    for (const words of answeringInWords(session)) this.lines.say(words);
    if (stage.kind !== "asking") return;
    this.question = questionFor(session.job.timeline.profile, stepAt(session.job, stage.index));
    const { words, guess } = this.question;
    this.lines.say(`${safeText(words)}${guess === undefined ? "" : ` [${safeText(guess)}]`}, or "again"`);
  }

  /** The stop buttons work at once, without ENTER; while an answer is typed only those that are no letters. */
  private key(name: string): void {
    const { session } = this;
    if (!session || !isKey(session.job.bench.buttons.stop, name)) return;
    if ([...name].length > 1 || session.stage.kind !== "asking") this.answer(STOPS.stop);
  }

  /** Ctrl-C or the end of the input ends it as a signal does: dark and still. */
  private typed(line: string | undefined): void {
    const stage = this.session?.stage;
    if (line === undefined || line === "stop") this.answer(STOPS[line ?? "signal"]);
    else if (stage?.kind === "moving") this.answer({ kind: "press", answers: this.open });
    else if (stage && this.isFresh(line)) this.answered(stage, line);
  }

  /** A line that came before its question could be read answers nothing. */
  private isFresh(line: string): boolean {
    const [attention, came] = heard(this.attention, line, performance.now());
    this.attention = attention;
    if (came !== "fresh") this.lines.say("  That came before it could be read: once more, please.");
    return came === "fresh";
  }

  private answered(stage: Stage, line: string): void {
    if (stage.kind === "asking") this.read(stage.index, line);
    else if (this.session && isOwn(keyPlan(this.session.job.bench.buttons), guardedBy(stage), line))
      this.answer({ kind: "confirm", answers: this.open });
  }

  private read(index: number, line: string): void {
    const said = this.question?.read(line);
    if (said?.ok) this.keep(index, said.value);
    else for (const words of said?.problems.map(problemInWords) ?? []) this.lines.say(`  ${safeText(words)}`);
  }

  private keep(index: number, said: ProofAnswer): void {
    const answers = this.open;
    if (said.kind === "again") {
      this.answer({ kind: "again", answers });
      return;
    }
    this.answers.set(index, said);
    this.answer({ kind: "judge", answers, result: isAsTold(said) ? "pass" : "fail" });
  }

  /** The question that a line answers; empty when none is open. */
  private get open(): string {
    return (this.session && questionOf(this.session)) ?? "";
  }

  /** What follows a failed step in a test of a fixture is of no use in the proof of a profile. */
  private agree(): void {
    this.answer({ kind: "confirm", answers: this.open });
  }
}

const SKIPPED: readonly Stage["kind"][] = ["placed", "what-next", "confirming", "setting-found", "paused"];

const STOPS = { stop: { kind: "stop" }, signal: { kind: "signal", name: "SIGINT" } } as const;

const problemInWords = ({ message, hint }: Problem): string => (hint ? `${message} (${hint})` : message);

const isAsTold = (answer: ProofAnswer): boolean => {
  if (answer.kind === "moved") return answer.moved.asked === answer.moved.moved;
  return answer.kind === "reached" ? answer.saw === "yes" : answer.kind === "showed" && answer.told === answer.saw;
};

/** How to answer what has been said; nothing while no answer is taken. */
const answeringInWords = ({ stage, job }: Session): readonly string[] => {
  const { own, stop } = keyPlan(job.bench.buttons);
  const guarded = guardedBy(stage);
  if (guarded === undefined) return [];
  const so = AGREED[stage.kind] ?? "all of this is confirmed";
  return [`${keyWords(own[guarded])} and ENTER: ${so}. If not: ${anyOf(stop)}, or stop and ENTER.`];
};

const AGREED: Partial<Record<Session["stage"]["kind"], string>> = {
  "line-lost": "I am here, the area is clear, continue",
  "other-interface": "this is the right interface, use it",
};

/** What is said when a proof comes to something new. */
const provingInWords = (session: Session): readonly string[] => {
  const { stage, job } = session;
  switch (stage.kind) {
    case "slow-start":
      return ["Slow movement first, dark: pan and tilt a little, for 3 seconds. Stand clear."];
    case "moving":
      return movingInWords(session, stage.step, stage.index);
    case "line-lost":
      return stage.back
        ? ["The line is back. The fixture is dark."]
        : [`The DMX line is lost: ${safeText(stage.words)} Limber tries it again every second.`];
    case "other-interface":
      return [`${safeText(stage.words)}. Nothing is sent to it until you agree.`];
    case "finished":
      return stage.how === "finished"
        ? []
        : [`It ${stage.how === "stopped" ? "was stopped" : "cannot go on"} at ${job.sequence.title}.`];
    default:
      return [];
  }
};

const movingInWords = ({ job }: Session, step: CompiledStep, index: number): readonly string[] => {
  const { profile, steps } = job.timeline;
  const head = `Step ${index + 1} of ${steps.length}, ${spanInWords(secondsOf(step.frames))}. ${whatMoves(profile, step)}`;
  return [head, ...step.notes.map((note) => `  ${safeText(note)}`), ...(isTimed(profile, step) ? [PRESS] : [])];
};

const whatMoves = ({ functions }: Profile, step: CompiledStep): string => {
  const [id] = step.functions;
  const spec = id === undefined ? undefined : functions.get(id);
  if (id === undefined || !spec) return "";
  return step.routine === "identify"
    ? `${functionWords(id)} alone is commanded to move a little.`
    : safeText(expected(id, spec));
};

const PRESS = "  ENTER each time it stops.";

/** Only where something travels there is a time to take. */
const isTimed = (profile: Profile, step: CompiledStep): boolean =>
  step.routine === "in-and-out" && step.functions.every((id) => profile.functions.get(id)?.kind === "travel");
