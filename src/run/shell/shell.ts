import { concatMap, EMPTY, type Observable, observeOn, queueScheduler, Subject, scan, tap } from "rxjs";
import type { Frame, Seconds } from "../../domain/units.ts";
import type { Batch } from "../batch/batch.ts";
import { leftSpot, type RackEffect } from "../batch/change.ts";
import { rackQuestions } from "../batch/members.ts";
import { stepRack } from "../batch/step.ts";
import type { Input, OnItsWay, Stamped, WorldInput } from "../machine/input.ts";
import type { Changed } from "../machine/running.ts";
import { Steadiness, WasOut } from "./beats.ts";
import { type Doors, handleDiagnosis, handleLines, handleWrites } from "./effect-handlers.ts";
import { FixtureQuestions } from "./fixture-questions.ts";
import type { Beat, FrameSender } from "./frame-sender.ts";

/** For how many frames the dark goes out after the last effect, so that one of them arrives. */
const LAST_FRAMES = 8;

/** A run, of one fixture or of many: joins clock, keys and DMX lines into inputs, and carries out its effects. */
export class Shell {
  private readonly inputs = new Subject<Stamped>();
  private readonly effects = new Subject<RackEffect>();
  private readonly doors: Doors;
  private readonly frames: FrameSender;
  private readonly steadiness = new Steadiness();
  private readonly questions: FixtureQuestions;
  private readonly wasOut = new WasOut();
  private batch: Batch;
  private outstanding = 0;
  private framesLeft = Number.POSITIVE_INFINITY;
  private mistake: { readonly error: unknown } | undefined;
  private over = () => {};

  constructor(opening: Batch, doors: Doors) {
    this.batch = opening;
    this.doors = doors;
    this.frames = doors.frames({
      clock: doors.clock,
      spots: opening.members.map(({ spot }) => spot),
      left: opening.members.flatMap(({ spot, session }) => leftSpot(spot, session.leftAt)),
      ears: {
        beat: (gap, stoodStill, send) => this.beat(gap, stoodStill, send),
        played: (answers, rig) => this.hear({ kind: "played", answers, rig }),
        mistaken: (error) => this.goDark(error),
      },
    });
    this.questions = new FixtureQuestions(
      doors.questions,
      () => doors.clock.now(),
      (answer) => this.hear(answer),
    );
  }

  /** True while a door has not answered: a clock in no time must wait. */
  readonly busy = (): boolean => this.outstanding > 0 || this.questions.busy;

  /** The frame of the step that is out just now: for a screen that draws the movement. */
  readonly frame = (): Frame => this.frames.standing(this.doors.clock.now()).frame;

  /** Resolves with how it ended, when the run is over and every door is shut; rejects with a mistake of ours, gone dark. */
  run(): Promise<Batch> {
    return new Promise((resolve, reject) => {
      const { watcher, signals, mishaps } = this.doors;
      const deaf = [signals((name) => this.hear({ kind: "signal", name })), mishaps((error) => this.goDark(error))];
      const stopBeating = this.frames.begin();
      this.over = () => {
        stopBeating();
        watcher.close();
        this.questions.close();
        this.frames.close().then(() => {
          // Not before: a second Ctrl-C would end the process in the middle of the last frames.
          for (const stop of deaf) stop();
          if (this.mistake) reject(this.mistake.error);
          else resolve(this.batch);
        }, reject);
      };
      this.join();
      watcher.listen((input, way) => this.hear(input, way));
      this.hear({ kind: "begin" });
    });
  }

  private beat(gap: Frame, stoodStill: Seconds | undefined, send: () => Beat): void {
    const left = this.framesLeft;
    try {
      // Before this beat goes out: nothing may jump on to where it would be by now.
      if (stoodStill !== undefined) this.hear({ kind: "stood-still", time: stoodStill });
      const { at, key, frame, isBefore, isStill } = send();
      this.wasOut.beat(at, key, frame);
      const words = this.steadiness.beat(gap, isBefore);
      if (words !== undefined) this.hear({ kind: "remark", words });
      this.questions.beat(isStill);
    } catch (error) {
      this.goDark(error);
    }
    // A run that ends within a beat has all its last frames still before it, like one that ends between two.
    if (left === this.framesLeft) this.framesLeft -= 1;
    if (this.framesLeft <= 0 && (!this.busy() || this.mistake)) this.over();
  }

  /** We are wrong: nothing we know can be trusted any more, so it goes dark where it stands and the run is over. */
  private goDark(error: unknown): void {
    if (this.mistake) return;
    this.mistake = { error };
    this.framesLeft = LAST_FRAMES;
    this.frames.goDark();
    this.doors.log.note("bug", { error: String(error), stack: error instanceof Error ? error.stack : undefined });
  }

  /** Errors in what is shown or carried must reach this pipe's end, so both happen inside it and not in a subscriber. */
  private join(): void {
    const dark = (error: unknown) => this.goDark(error);
    for (const handled of this.handlers()) handled.pipe(tap((input) => this.hear(input))).subscribe({ error: dark });
    this.inputs
      .pipe(
        observeOn(queueScheduler),
        scan<Stamped, Changed<Batch, RackEffect>>(([batch], input) => stepRack(batch, input), [this.batch, []]),
        tap((change) => this.publish(change)),
      )
      .subscribe({ error: dark });
  }

  /** Stamped when it comes, not when its turn comes; what was pressed earlier also with what was out then. */
  private hear(input: Input, way?: OnItsWay): void {
    const at = this.doors.clock.now();
    if (way) {
      const { key, frame, after } = this.wasOut.at(at - way.ago);
      const { unsent = false } = this.frames.standing(at);
      this.inputs.next({ ...input, at, frame, after, unsent, way: { ...way, key } });
    } else this.inputs.next({ ...input, at, ...this.frames.standing(at) });
  }

  private publish([batch, effects]: Changed<Batch, RackEffect>): void {
    this.batch = batch;
    this.doors.watcher.show(batch);
    this.questions.consider(rackQuestions(batch));
    for (const effect of effects) {
      if (effect.kind === "write" || effect.kind === "open-line" || effect.kind === "diagnose") this.outstanding++;
      this.effects.next(effect);
    }
  }

  private handlers(): readonly Observable<WorldInput>[] {
    const answered = () => {
      this.outstanding--;
    };
    return [
      this.handleAtOnce(),
      handleLines(this.effects, this.frames, this.doors.log, (input) => this.hear(input), answered),
      handleWrites(this.effects, this.doors, answered),
      handleDiagnosis(this.effects, this.doors, answered),
    ];
  }

  /** What the shell itself does at once. */
  private handleAtOnce(): Observable<WorldInput> {
    return this.effects.pipe(
      concatMap((effect) => {
        this.carry(effect);
        return EMPTY;
      }),
    );
  }

  private carry(effect: RackEffect): void {
    const { frames, doors } = this;
    if (effect.kind === "play") frames.play(effect.key, effect.parts, effect.from);
    else if (effect.kind === "go-dark") frames.goDark();
    else if (effect.kind === "by-hand") doors.byHand(effect.deed);
    else if (effect.kind === "say") doors.voice.say(effect.words);
    else if (effect.kind === "end") this.framesLeft = LAST_FRAMES;
  }
}
