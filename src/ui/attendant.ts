import type { Frame } from "../domain/units.ts";
import { type Batch, lookedAtAlone, rackQuestionOf } from "../run/batch/batch.ts";
import type { RackInput } from "../run/machine/input.ts";
import type { Spectacle, Watcher } from "../run/ports.ts";
import { isSilenceCounted } from "../run/session/flow.ts";
import { LATE_PRESS_S } from "../run/session/playing.ts";
import { Keeper } from "./keeper.ts";
import { isKey, type KeyPlan, keyPlan } from "./key-plan.ts";
import type { BenchKeys } from "./keyboard.ts";
import { REMIND_AFTER_S } from "./moving-rows.ts";
import { LEAST, pageOf, type Row } from "./page.ts";
import type { Terminal } from "./painter.ts";
import { pressed } from "./pressing.ts";
import { look, type Seen } from "./seen.ts";
import { clearDesk, type Desk, type Drawn, deskFor, type Sight, type Size, stageIn } from "./sight.ts";

/** What a screen needs from whoever opens it. */
export interface ScreenOptions extends BenchKeys {
  /** The frame of the step that is out; asked at most 20 times a second. */
  readonly frame: () => Frame;
  /** What simulated fixtures show and sound, in the order of the rack; undefined on a real bench, where the strip shows where it is commanded to be. */
  readonly spectacle: (() => readonly (Spectacle | undefined)[]) | undefined;
  readonly colour: boolean;
  /** Letters several rows high. */
  readonly distance: boolean;
  readonly stdout: Terminal;
}

/** A watcher that can also be told something in passing, such as that the system cannot speak. */
export interface Screen extends Watcher {
  notice(words: string): void;
}

/** A page and what it shows: keys answer that. */
export interface Page {
  readonly rows: readonly Row[];
  readonly drawn: Drawn;
}

/** A simulated fixture is watched on the screen; a real one is not, and there the processor belongs to the frames. */
const DRAWN_EVERY_MS = { simulated: 50, real: 100 } as const;
/** Not more often than it is drawn, with room for a timer that comes early. */
const LOOKS_EVERY_MS = DRAWN_EVERY_MS.simulated - 5;

/**
 * What every kind of screen does, before one fixture or many: holds what was published, makes the page, turns keys into answers,
 * and looks at simulated fixtures now and then.
 */
export class Attendant {
  /** Something to be told besides: that the system cannot speak. */
  notice: string | undefined;
  /** What was published last; undefined before anything was. */
  batch: Batch | undefined;
  private readonly options: ScreenOptions;
  private readonly now: () => number;
  private readonly plan: KeyPlan;
  private readonly keeper = new Keeper();
  private desk: Desk = clearDesk(undefined);
  private shown: readonly (Seen | undefined)[] = [];
  private lastKey: number;
  private lastLook = Number.NEGATIVE_INFINITY;
  private lastPress = Number.NEGATIVE_INFINITY;
  private reminded = false;
  private movedUntil = Number.NEGATIVE_INFINITY;
  private answer: (input: RackInput) => void = () => {};

  /** @param now - monotonic, in milliseconds */
  constructor(options: ScreenOptions, now: () => number) {
    this.options = options;
    this.now = now;
    this.plan = keyPlan(options.buttons);
    this.lastKey = now();
  }

  /** How often something new is worth showing, in milliseconds. */
  get interval(): number {
    return this.options.spectacle ? DRAWN_EVERY_MS.simulated : DRAWN_EVERY_MS.real;
  }

  /** Gives every answer of the person to `answer` from now on. */
  listen(answer: (input: RackInput) => void): void {
    this.answer = answer;
  }

  /** Takes in the state of the run that is to be shown next. What waited until a step was over is asked for now. */
  show(batch: Batch): void {
    const before = this.batch;
    this.batch = batch;
    if (before && isMoving(before) && !isMoving(batch)) this.movedUntil = this.now();
    const question = rackQuestionOf(batch);
    if (question === this.desk.question) return;
    const { wanted } = this.desk;
    this.desk = deskFor(this.desk, question);
    if (!wanted || question === undefined || !TAKES_WISHES.includes(stageIn(batch).kind)) return;
    this.desk = { ...this.desk, wanted: undefined };
    this.answer({ kind: wanted, answers: question });
  }

  /** Undefined while nothing was published. On a terminal that is too small to read the page nothing but a press is an answer. */
  page(size: Size): Page | undefined {
    const { batch } = this;
    if (!batch) return undefined;
    const readable = size.columns >= LEAST.columns && size.rows >= LEAST.rows;
    const question = readable || isMoving(batch) ? rackQuestionOf(batch) : undefined;
    return { rows: pageOf(this.sight(batch, size)), drawn: { batch, question } };
  }

  /** A key, as an answer to what was drawn; undefined before anything was. */
  key(name: string, drawn: Drawn | undefined): void {
    this.lastKey = this.now();
    this.reminded = false;
    if (isKey(this.plan.press, name)) this.lastPress = this.lastKey;
    const came = this.keeper.key(name, this.lastKey);
    if (!drawn) return;
    if (this.isLatePress(name, drawn)) {
      this.answer({ kind: "press", answers: drawn.question ?? "" });
      return;
    }
    const [desk, inputs] = pressed(this.desk, name, drawn, this.plan);
    this.desk = desk;
    for (const input of this.keeper.passed(inputs, came, duringOf(drawn.batch))) this.answer(input);
  }

  /** Something moves, or has moved so short a time ago that a press is meant for that. */
  get moves(): boolean {
    return (this.batch !== undefined && isMoving(this.batch)) || this.hasJustMoved;
  }

  private get hasJustMoved(): boolean {
    return this.now() - this.movedUntil <= LATE_PRESS_S * 1000;
  }

  /** What moved has just come to its end: the press was meant for that, and is no answer yet. A blank in what is typed is neither. */
  private isLatePress(name: string, { batch }: Drawn): boolean {
    if (this.desk.entry) return false;
    return ASKED_AFTER_MOVING.includes(stageIn(batch).kind) && isKey(this.plan.press, name) && this.hasJustMoved;
  }

  /** The terminal is gone: nobody can answer any more. */
  gone(): void {
    this.answer({ kind: "signal", name: "SIGHUP" });
  }

  /** Says "now" once, when somebody has been quiet for too long while it goes on by itself; undefined otherwise. */
  remind(): "now" | undefined {
    const { batch } = this;
    if (!batch || this.reminded || this.quiet() < REMIND_AFTER_S || !goesOnByItself(batch)) return undefined;
    this.reminded = true;
    return "now";
  }

  /** What the page is made from. */
  sight(batch: Batch, size: Size): Sight {
    const { desk, plan, options, notice, keeper } = this;
    const at = this.now();
    keeper.shown(rackQuestionOf(batch), at);
    return {
      batch,
      desk,
      plan,
      frame: options.frame(),
      shown: this.glance(at),
      at,
      sincePress: (at - this.lastPress) / 1000,
      quiet: this.quiet(),
      listening: keeper.listening(at),
      refused: keeper.refused(at),
      notice,
      size,
      letters: options.distance ? "several rows high" : "usual",
    };
  }

  /** Looks at simulated fixtures, not more often than anything is drawn. */
  private glance(at: number): readonly (Seen | undefined)[] {
    const { spectacle } = this.options;
    if (!spectacle || at - this.lastLook < LOOKS_EVERY_MS) return this.shown;
    this.lastLook = at;
    this.shown = spectacle().map((shown, index) => shown && look(this.shown[index], shown, at));
    return this.shown;
  }

  /** Seconds since the last key. */
  private quiet(): number {
    return (this.now() - this.lastKey) / 1000;
  }
}

const isMoving = (batch: Batch): boolean => stageIn(batch).kind === "moving";
const ASKED_AFTER_MOVING: readonly string[] = ["asking", "which", "confirming"];
/** Where what was asked for during a movement is taken. */
const TAKES_WISHES: readonly string[] = ["moving", "asking", "confirming"];

const duringOf = (batch: Batch) => {
  const { kind } = stageIn(batch);
  return kind === "moving" ? "a movement" : kind === "at-spot" ? "to and fro" : "a question";
};

/** It goes on without a key, and silence will be counted. */
const goesOnByItself = (batch: Batch): boolean => {
  const session = lookedAtAlone(batch)?.session;
  return session ? isSilenceCounted(session) && session.job.opening.mode === "hands-off" : isMoving(batch);
};
