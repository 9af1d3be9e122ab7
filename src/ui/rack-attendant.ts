import { placeInWords } from "../data/rack/rack.ts";
import { type Batch, markedFor, memberAt, rackQuestionOf } from "../run/batch/batch.ts";
import type { RackInput } from "../run/batch/input.ts";
import type { Spectacle } from "../run/ports.ts";
import type { WatcherInput } from "../run/session/input.ts";
import { LATE_PRESS_S } from "../run/session/playing.ts";
import { questionOf } from "../run/session/session.ts";
import { Attendant } from "./attendant.ts";
import type { Attends } from "./attends.ts";
import { CLEAR_RACK_DESK, type RackDesk } from "./desk.ts";
import { Keeper } from "./keeper.ts";
import { isKey, type KeyPlan, keyPlan } from "./key-plan.ts";
import { REMIND_AFTER_S } from "./moving-rows.ts";
import type { ScreenOptions } from "./options.ts";
import type { Page } from "./pages-out.ts";
import { rackPageOf } from "./rack-page.ts";
import { rackPressed } from "./rack-pressing.ts";
import { SessionTeller } from "./session-teller.ts";
import type { RackDrawn, RackSight, Size } from "./sight.ts";

export type RackScreenOptions = ScreenOptions<readonly (Spectacle | undefined)[]>;

/** Attends to a rack; while one fixture is looked at alone, to that one as on any bench. */
export class RackAttendant implements Attends<Batch, RackInput, RackDrawn> {
  readonly interval: number;
  notice: string | undefined;
  private readonly options: RackScreenOptions;
  private readonly now: () => number;
  private readonly plan: KeyPlan;
  private readonly single: Attendant;
  private readonly teller: SessionTeller;
  private readonly keeper = new Keeper();
  private batch: Batch | undefined;
  private desk: RackDesk = CLEAR_RACK_DESK;
  private asked: string | undefined;
  private lastKey: number;
  private reminded = false;
  private movedUntil = Number.NEGATIVE_INFINITY;
  private answer: (input: RackInput) => void = () => {};

  constructor(options: RackScreenOptions, now: () => number) {
    this.options = options;
    this.now = now;
    this.plan = keyPlan(options.buttons);
    this.lastKey = now();
    const { spectacle } = options;
    this.single = new Attendant(
      { ...options, spectacle: spectacle && (() => this.alone(spectacle())) },
      now,
      this.keeper,
    );
    this.teller = new SessionTeller(this.single);
    this.interval = this.single.interval;
  }

  listen(answer: (input: RackInput) => void): void {
    this.answer = answer;
    this.single.listen((input) => this.pass(input));
  }

  show(batch: Batch): void {
    if (this.batch?.stage.kind === "moving" && batch.stage.kind !== "moving") this.movedUntil = this.now();
    this.batch = batch;
    const question = rackQuestionOf(batch);
    if (question !== this.asked) this.desk = CLEAR_RACK_DESK;
    this.asked = question;
    if (batch.stage.kind !== "alone") return;
    const { place, session } = memberAt(batch, batch.stage.member);
    this.single.notice = `Alone: ${placeInWords(place)}. All others stand dark and still.`;
    this.single.show(session);
  }

  page(size: Size): Page<RackDrawn> | undefined {
    const { batch } = this;
    if (!batch) return undefined;
    const drawn: RackDrawn = { batch, question: rackQuestionOf(batch) };
    const single = batch.stage.kind === "alone" ? this.single.page(size) : undefined;
    return { rows: single ? single.rows : rackPageOf(this.sight(batch, size)), drawn };
  }

  key(name: string, drawn: RackDrawn | undefined): void {
    this.lastKey = this.now();
    this.reminded = false;
    const stage = drawn?.batch.stage;
    if (drawn && stage?.kind === "alone") {
      const { session } = memberAt(drawn.batch, stage.member);
      this.single.key(name, { session, question: questionOf(session) });
      return;
    }
    const came = this.keeper.key(name, this.lastKey);
    if (!drawn) return;
    if (this.isLatePress(name, drawn)) {
      this.answer({ kind: "press", answers: drawn.question ?? "" });
      return;
    }
    const [desk, inputs] = rackPressed(this.desk, name, drawn, this.plan);
    this.desk = desk;
    const during = drawn.batch.stage.kind === "moving" ? "a movement" : "a question";
    for (const input of this.keeper.passed(inputs, came, during)) this.answer(input);
  }

  get moves(): boolean {
    const kind = this.batch?.stage.kind;
    return kind === "alone" ? this.single.moves : kind === "moving" || this.hasJustMoved;
  }

  private get hasJustMoved(): boolean {
    return this.now() - this.movedUntil <= LATE_PRESS_S * 1000;
  }

  /** What moved has just come to its end: the press was meant for that, and is no answer yet. */
  private isLatePress(name: string, { batch }: RackDrawn): boolean {
    const asks = batch.stage.kind === "which" || batch.stage.kind === "confirming";
    return asks && isKey(this.plan.press, name) && this.hasJustMoved;
  }

  remind(): "now" | undefined {
    const { batch } = this;
    if (batch?.stage.kind !== "moving" || this.reminded || this.quiet() < REMIND_AFTER_S) return undefined;
    this.reminded = true;
    return "now";
  }

  gone(): void {
    this.answer({ kind: "signal", name: "SIGHUP" });
  }

  /** For those who tell in sentences; undefined before anything was published. */
  sightNow(size: Size): RackSight | undefined {
    return this.batch && this.sight(this.batch, size);
  }

  /** What has changed with the fixture that is looked at alone. */
  changesAlone(): readonly string[] {
    return this.teller.changes();
  }

  private sight(batch: Batch, size: Size): RackSight {
    const { desk, plan, notice, options, keeper } = this;
    if (batch.stage.kind !== "alone") keeper.shown(rackQuestionOf(batch), this.now());
    return {
      batch,
      desk,
      plan,
      frame: options.frame(),
      seen: options.spectacle?.() ?? [],
      quiet: this.quiet(),
      listening: keeper.listening(this.now()),
      refused: keeper.refused(this.now()),
      notice,
      size,
      letters: options.distance ? "several rows high" : "usual",
    };
  }

  private quiet(): number {
    return (this.now() - this.lastKey) / 1000;
  }

  /** What the fixture that is looked at alone shows. */
  private alone(all: readonly (Spectacle | undefined)[]): Spectacle {
    const { batch } = this;
    const shown = batch?.stage.kind === "alone" ? all[batch.stage.member] : undefined;
    return shown ?? NOTHING;
  }

  /** Answers of the single bench name the question as this fixture's. */
  private pass(input: WatcherInput): void {
    const { batch } = this;
    if (batch?.stage.kind !== "alone") return;
    this.answer(markedFor(memberAt(batch, batch.stage.member).run, input));
  }
}

const NOTHING: Spectacle = { parts: [], sounds: [], light: "dark", display: "" };
