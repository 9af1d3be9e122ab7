import type { WatcherInput } from "../../src/run/machine/input.ts";
import { questionOf, type Session } from "../../src/run/session/session.ts";
import type { WatchesOne } from "./of-one.ts";

/** Says yes to everything and passes every step; keeps what it was shown. */
export class ObligingWatcher implements WatchesOne {
  readonly shown: Session[] = [];
  /** Called with every session shown, before it answers. */
  onShow: (session: Session, answer: (input: WatcherInput) => void) => void = () => {};
  private answer: (input: WatcherInput) => void = () => {};
  private question: string | undefined;
  closed = false;

  listen(answer: (input: WatcherInput) => void): void {
    this.answer = answer;
  }

  show(session: Session): void {
    this.shown.push(session);
    this.onShow(session, this.answer);
    const { stage } = session;
    const question = stage.kind === "line-lost" && !stage.back ? undefined : questionOf(session);
    if (question === this.question) return;
    this.question = question;
    if (question === undefined || ["moving", "slow-start", "stirring"].includes(stage.kind)) return;
    this.answer(
      stage.kind === "paused" ? { kind: "go-on", answers: question } : { kind: "confirm", answers: question },
    );
  }

  close(): void {
    this.closed = true;
  }
}
