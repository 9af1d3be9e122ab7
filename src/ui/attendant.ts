import { isSilenceCounted } from "../run/session/flow.ts";
import type { WatcherInput } from "../run/session/input.ts";
import { LATE_PRESS_S } from "../run/session/playing.ts";
import { questionOf, type Session } from "../run/session/session.ts";
import type { Attends } from "./attends.ts";
import { clearDesk, type Desk, type Drawn, deskFor } from "./desk.ts";
import { Keeper } from "./keeper.ts";
import { isKey, type KeyPlan, keyPlan } from "./key-plan.ts";
import { REMIND_AFTER_S } from "./moving-rows.ts";
import type { ScreenOptions } from "./options.ts";
import { LEAST, pageOf } from "./page.ts";
import type { Page } from "./pages-out.ts";
import { pressed } from "./pressing.ts";
import { look, type Seen } from "./seen.ts";
import type { Sight, Size } from "./sight.ts";

/** A simulated fixture is watched on the screen; a real one is not, and there the processor belongs to the frames. */
const DRAWN_EVERY_MS = { simulated: 50, real: 100 } as const;
/** Not more often than it is drawn, with room for a timer that comes early. */
const LOOKS_EVERY_MS = DRAWN_EVERY_MS.simulated - 5;

/** What every kind of screen does: holds what was published, turns keys into answers, and looks at the fixture now and then. */
export class Attendant implements Attends<Session, WatcherInput, Drawn> {
  readonly plan: KeyPlan;
  session: Session | undefined;
  notice: string | undefined;
  private readonly options: ScreenOptions;
  private readonly now: () => number;
  private readonly keeper: Keeper;
  private desk: Desk = clearDesk(undefined);
  private seen: Seen | undefined;
  private lastKey: number;
  private lastLook = Number.NEGATIVE_INFINITY;
  private lastPress = Number.NEGATIVE_INFINITY;
  private reminded = false;
  private movedUntil = Number.NEGATIVE_INFINITY;
  private answer: (input: WatcherInput) => void = () => {};

  /** `keeper` is shared where several attend to the same keyboard. */
  constructor(options: ScreenOptions, now: () => number, keeper = new Keeper()) {
    this.options = options;
    this.now = now;
    this.keeper = keeper;
    this.plan = keyPlan(options.buttons);
    this.lastKey = now();
  }

  /** How often something new is worth showing. */
  get interval(): number {
    return this.options.spectacle ? DRAWN_EVERY_MS.simulated : DRAWN_EVERY_MS.real;
  }

  listen(answer: (input: WatcherInput) => void): void {
    this.answer = answer;
  }

  /** What waited until the step was over is asked for now. */
  show(session: Session): void {
    const question = questionOf(session);
    if (this.session?.stage.kind === "moving" && session.stage.kind !== "moving") this.movedUntil = this.now();
    this.session = session;
    if (question === this.desk.question) return;
    const { wanted } = this.desk;
    this.desk = deskFor(this.desk, question);
    if (!wanted || question === undefined || !["moving", "asking", "confirming"].includes(session.stage.kind)) return;
    this.desk = { ...this.desk, wanted: undefined };
    this.answer({ kind: wanted, answers: question });
  }

  page(size: Size): Page<Drawn> | undefined {
    const { session } = this;
    if (!session) return undefined;
    const readable = size.columns >= LEAST.columns && size.rows >= LEAST.rows;
    const question = readable || session.stage.kind === "moving" ? questionOf(session) : undefined;
    return { rows: pageOf(this.sight(session, size)), drawn: { session, question } };
  }

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
    for (const input of this.keeper.passed(inputs, came, duringOf(drawn.session))) this.answer(input);
  }

  get moves(): boolean {
    return this.session?.stage.kind === "moving" || this.hasJustMoved;
  }

  private get hasJustMoved(): boolean {
    return this.now() - this.movedUntil <= LATE_PRESS_S * 1000;
  }

  /** What moved has just come to its end: the press was meant for that, and is no answer yet. A blank in a note is neither. */
  private isLatePress(name: string, { session }: Drawn): boolean {
    if (this.desk.entry) return false;
    const asks = session.stage.kind === "asking" || session.stage.kind === "confirming";
    return asks && isKey(this.plan.press, name) && this.hasJustMoved;
  }

  /** The terminal is gone: nobody can answer any more. */
  gone(): void {
    this.answer({ kind: "signal", name: "SIGHUP" });
  }

  /** Once, when somebody has been quiet for too long while it goes on by itself. */
  remind(): "now" | undefined {
    const { session } = this;
    const alone = session !== undefined && isSilenceCounted(session) && session.job.opening.mode === "hands-off";
    if (!alone || this.reminded || this.quiet() < REMIND_AFTER_S) return undefined;
    this.reminded = true;
    return "now";
  }

  sight(session: Session, size: Size): Sight {
    this.glance();
    const { desk, plan, seen, notice, options, keeper } = this;
    keeper.shown(questionOf(session), this.now());
    return {
      session,
      desk,
      plan,
      frame: options.frame(),
      seen,
      at: this.now(),
      quiet: this.quiet(),
      listening: keeper.listening(this.now()),
      refused: keeper.refused(this.now()),
      sincePress: (this.now() - this.lastPress) / 1000,
      notice,
      size,
      letters: options.distance ? "several rows high" : "usual",
    };
  }

  /** Looks at the simulated fixture, not more often than anything is drawn. */
  private glance(): void {
    const { spectacle } = this.options;
    const now = this.now();
    if (!spectacle || now - this.lastLook < LOOKS_EVERY_MS) return;
    this.lastLook = now;
    this.seen = look(this.seen, spectacle(), now);
  }

  private quiet(): number {
    return (this.now() - this.lastKey) / 1000;
  }
}

const duringOf = ({ stage }: Session) =>
  stage.kind === "moving" ? "a movement" : stage.kind === "at-spot" ? "to and fro" : "a question";
