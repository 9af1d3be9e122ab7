import { placeInWords } from "../data/rack/rack.ts";
import { type Batch, lookedAtAlone, markedFor, rackQuestionOf } from "../run/batch/batch.ts";
import type { RackInput } from "../run/machine/input.ts";
import { isSilenceCounted } from "../run/session/flow.ts";
import { LATE_PRESS_S } from "../run/session/playing.ts";
import { questionOf, type Session } from "../run/session/session.ts";
import { CLEAR_RACK_DESK, clearDesk, type Desk, deskFor, type RackDesk } from "./desk.ts";
import { Keeper } from "./keeper.ts";
import { isKey, type KeyPlan, keyPlan } from "./key-plan.ts";
import { REMIND_AFTER_S } from "./moving-rows.ts";
import type { ScreenOptions } from "./options.ts";
import { LEAST, pageOf } from "./page.ts";
import type { Page } from "./pages-out.ts";
import { pressed } from "./pressing.ts";
import { rackPageOf } from "./rack-page.ts";
import { rackPressed } from "./rack-pressing.ts";
import { look, type Seen } from "./seen.ts";
import type { AnySight, RackDrawn, RackSight, Sight, Size } from "./sight.ts";

/** A simulated fixture is watched on the screen; a real one is not, and there the processor belongs to the frames. */
const DRAWN_EVERY_MS = { simulated: 50, real: 100 } as const;
/** Not more often than it is drawn, with room for a timer that comes early. */
const LOOKS_EVERY_MS = DRAWN_EVERY_MS.simulated - 5;

/**
 * What every kind of screen does, before one fixture or many: holds what was published, makes the page, turns keys into answers,
 * and looks at simulated fixtures now and then. A fixture that is looked at alone has its own page; a run of one is always that.
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
  private rackDesk: RackDesk = CLEAR_RACK_DESK;
  private seen: { readonly run: string; readonly last: Seen } | undefined;
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

  /** Takes in the state of the run that is to be shown next. */
  show(batch: Batch): void {
    const before = this.batch;
    this.batch = batch;
    if (before && isMoving(before) && !isMoving(batch)) this.movedUntil = this.now();
    if (before && rackQuestionOf(before) !== rackQuestionOf(batch)) this.rackDesk = CLEAR_RACK_DESK;
    const alone = lookedAtAlone(batch);
    if (alone) this.showAlone(alone.session);
  }

  /** What waited until the step was over is asked for now. */
  private showAlone(session: Session): void {
    const question = questionOf(session);
    if (question === this.desk.question) return;
    const { wanted } = this.desk;
    this.desk = deskFor(this.desk, question);
    if (!wanted || question === undefined || !["moving", "asking", "confirming"].includes(session.stage.kind)) return;
    this.desk = { ...this.desk, wanted: undefined };
    this.answer({ kind: wanted, answers: this.batch ? (rackQuestionOf(this.batch) ?? "") : "" });
  }

  /** Undefined while nothing was published. On a terminal that is too small to read the page nothing but a press is an answer. */
  page(size: Size): Page | undefined {
    const { batch } = this;
    if (!batch) return undefined;
    const readable = size.columns >= LEAST.columns && size.rows >= LEAST.rows;
    const question = readable || isMoving(batch) ? rackQuestionOf(batch) : undefined;
    const sight = this.sightAlone(batch, size);
    return { rows: sight ? pageOf(sight) : rackPageOf(this.sight(batch, size)), drawn: { batch, question } };
  }

  /** A key, as an answer to what was drawn; undefined before anything was. */
  key(name: string, drawn: RackDrawn | undefined): void {
    this.lastKey = this.now();
    this.reminded = false;
    if (isKey(this.plan.press, name)) this.lastPress = this.lastKey;
    const came = this.keeper.key(name, this.lastKey);
    if (!drawn) return;
    if (this.isLatePress(name, drawn)) {
      this.answer({ kind: "press", answers: drawn.question ?? "" });
      return;
    }
    const inputs = this.said(name, drawn);
    for (const input of this.keeper.passed(inputs, came, duringOf(drawn.batch))) this.answer(input);
  }

  private said(name: string, drawn: RackDrawn): readonly RackInput[] {
    const alone = lookedAtAlone(drawn.batch);
    if (!alone) {
      const [desk, inputs] = rackPressed(this.rackDesk, name, drawn, this.plan);
      this.rackDesk = desk;
      return inputs;
    }
    const { run, session } = alone;
    const question = drawn.question === undefined ? undefined : questionOf(session);
    const [desk, inputs] = pressed(this.desk, name, { session, question }, this.plan);
    this.desk = desk;
    return inputs.map((input) => markedFor(run, input));
  }

  /** Something moves, or has moved so short a time ago that a press is meant for that. */
  get moves(): boolean {
    return (this.batch !== undefined && isMoving(this.batch)) || this.hasJustMoved;
  }

  private get hasJustMoved(): boolean {
    return this.now() - this.movedUntil <= LATE_PRESS_S * 1000;
  }

  /** What moved has just come to its end: the press was meant for that, and is no answer yet. A blank in what is typed is neither. */
  private isLatePress(name: string, { batch }: RackDrawn): boolean {
    if (this.desk.entry || this.rackDesk.entry) return false;
    return ASKED_AFTER_MOVING.includes(kindOf(batch)) && isKey(this.plan.press, name) && this.hasJustMoved;
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

  /** What the page of several fixtures is made from. */
  sight(batch: Batch, size: Size): RackSight {
    const { rackDesk: desk, options, notice } = this;
    return { ...this.moment(batch, size), batch, desk, notice, seen: options.spectacle?.() ?? [] };
  }

  /** What the page of the fixture that is looked at alone is made from; undefined while none is. */
  sightAlone(batch: Batch, size: Size): Sight | undefined {
    const alone = lookedAtAlone(batch);
    if (!alone) return undefined;
    const { desk, lastPress, notice } = this;
    const { session, run, place } = alone;
    const others = batch.plan.asks === "alone" ? "" : `Alone: ${placeInWords(place)}. All others stand dark and still.`;
    const seen = this.glance(batch, run);
    return {
      ...this.moment(batch, size),
      session,
      desk,
      seen,
      at: this.now(),
      sincePress: (this.now() - lastPress) / 1000,
      notice: [others, notice ?? ""].filter((words) => words !== "").join(" ") || undefined,
    };
  }

  private moment(batch: Batch, size: Size): AnySight {
    const { plan, options, keeper } = this;
    keeper.shown(rackQuestionOf(batch), this.now());
    return {
      plan,
      frame: options.frame(),
      quiet: this.quiet(),
      listening: keeper.listening(this.now()),
      refused: keeper.refused(this.now()),
      size,
      letters: options.distance ? "several rows high" : "usual",
    };
  }

  /** Looks at the simulated fixture of this run, not more often than anything is drawn. */
  private glance({ members }: Batch, run: string): Seen | undefined {
    const { spectacle } = this.options;
    const now = this.now();
    const before = this.seen?.run === run ? this.seen.last : undefined;
    if (!spectacle || (before && now - this.lastLook < LOOKS_EVERY_MS)) return before;
    this.lastLook = now;
    const shown = spectacle()[members.findIndex((member) => member.run === run)];
    this.seen = shown && { run, last: look(before, shown, now) };
    return this.seen?.last;
  }

  /** Seconds since the last key. */
  private quiet(): number {
    return (this.now() - this.lastKey) / 1000;
  }
}

/** The stage that matters to whoever watches: of the fixture that is looked at alone, else of all. */
const kindOf = (batch: Batch): string => (lookedAtAlone(batch)?.session ?? batch).stage.kind;
const isMoving = (batch: Batch): boolean => kindOf(batch) === "moving";
const ASKED_AFTER_MOVING: readonly string[] = ["asking", "which", "confirming"];

const duringOf = (batch: Batch) => {
  const kind = kindOf(batch);
  return kind === "moving" ? "a movement" : kind === "at-spot" ? "to and fro" : "a question";
};

/** It goes on without a key, and silence will be counted. */
const goesOnByItself = (batch: Batch): boolean => {
  const session = lookedAtAlone(batch)?.session;
  return session ? isSilenceCounted(session) && session.job.opening.mode === "hands-off" : isMoving(batch);
};
