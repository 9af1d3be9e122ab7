import { type Batch, onlySession } from "../../run/batch/batch.ts";
import type { BodyOf } from "../../run/events/event.ts";
import type { OnItsWay, RackInput } from "../../run/machine/input.ts";
import type { Watcher } from "../../run/ports.ts";
import { questionOf } from "../../run/session/session.ts";
import type { SimLine } from "../../sim/line.ts";
import type { AllSeeing } from "../../sim/observer/observer.ts";

/** Stands beside whoever practises and notes, attempt by attempt, what there was to be noticed; answers nothing itself. */
export class PracticeWatch implements Watcher {
  readonly shown: BodyOf<"shown">[] = [];
  private readonly person: Watcher;
  private readonly eyes: AllSeeing;
  private readonly deaf: () => void;
  private broken: string | undefined;
  private watching:
    | { readonly step: string; readonly attempt: number; readonly question: string | undefined }
    | undefined;

  constructor(person: Watcher, line: SimLine, eyes: AllSeeing) {
    this.person = person;
    this.eyes = eyes;
    this.deaf = line.scenes(([both]) => {
      if (both) this.eyes.see(both);
    });
  }

  listen(answer: (input: RackInput, way?: OnItsWay) => void): void {
    this.person.listen(answer);
  }

  show(batch: Batch): void {
    const session = onlySession(batch);
    const question = questionOf(session);
    const { stage } = session;
    if (stage.kind === "paused" || stage.kind === "line-lost") this.breakOff();
    if (this.watching?.question !== question) this.settle();
    if (stage.kind === "moving" && !this.watching && question !== this.broken) {
      const { step, attempt } = stage;
      this.watching = { step: step.id, attempt, question };
      this.eyes.begin({ functions: step.functions, routine: step.routine, frames: step.frames });
    }
    this.person.show(batch);
  }

  close(): void {
    this.settle();
    this.deaf();
    this.person.close();
  }

  /** An attempt that was halted has no whole frames to count by: nothing is said of it. */
  private breakOff(): void {
    this.broken = this.watching?.question ?? this.broken;
    if (this.watching) this.eyes.end();
    this.watching = undefined;
  }

  private settle(): void {
    if (!this.watching) return;
    const { step, attempt } = this.watching;
    const { frames, symptoms } = this.eyes.end();
    this.shown.push({ kind: "shown", step, attempt, frames: [...frames], symptoms: [...symptoms] });
    this.watching = undefined;
  }
}
