import { FRAMES_PER_SECOND, type Frame } from "../domain/units.ts";
import { type Batch, memberAt, type RackNext, type RackStage, rackQuestionOf } from "../run/batch/batch.ts";
import type { RackInput } from "../run/machine/input.ts";
import type { Watcher } from "../run/ports.ts";
import { stepAt } from "../run/session/job.ts";
import type { FixtureBuild } from "./build.ts";
import type { SimLine } from "./line.ts";
import { type Observer, observer } from "./observer/observer.ts";
import { SimulatedWatcher } from "./watcher.ts";

/** A simulated fixture of the rack: which one on which line. */
export interface InView {
  readonly line: SimLine;
  readonly which: number;
  readonly build: FixtureBuild;
}

/**
 * The simulated person before a rack: one pair of eyes on as many fixtures as move together, each seen with less care the
 * more there are. What differs is pressed for; a fixture alone is watched as on the single bench.
 */
export class SimulatedRackWatcher implements Watcher {
  private readonly fixtures: readonly InView[];
  private readonly eyes: readonly Observer[];
  private readonly alone: readonly SimulatedWatcher[];
  private readonly deaf: (() => void)[] = [];
  private answer: (input: RackInput) => void = () => {};
  private question: string | undefined;
  private waitsForMains = false;
  private frames: Frame = 0;
  private lookingAt: number | undefined;
  /** Members that move now, and how often each was pressed for. */
  private watched: ReadonlyMap<number, { presses: number }> = new Map();

  constructor(fixtures: readonly InView[], seed: number) {
    this.fixtures = fixtures;
    this.eyes = fixtures.map(({ build }, index) => observer(build, seed + index));
    this.alone = fixtures.map(
      ({ line, build, which }, index) => new SimulatedWatcher(line, observer(build, seed + index), which),
    );
  }

  listen(answer: (input: RackInput) => void): void {
    this.answer = answer;
    const [first] = this.fixtures;
    if (first) this.deaf.push(first.line.scenes(() => this.askAgain()));
    for (const [index, { line, which }] of this.fixtures.entries())
      this.deaf.push(
        line.scenes((comparisons) => {
          const now = comparisons[which];
          const eye = this.eyes[index];
          if (!now || !eye || !this.watched.has(index)) return;
          for (let n = eye.see(now.scene, now.twin); n > 0; n--) this.press(index, this.question);
        }),
      );
  }

  show(batch: Batch): void {
    const { stage } = batch;
    this.lookAlone(batch, stage.kind === "alone" ? stage.member : undefined);
    const question = rackQuestionOf(batch);
    if (question === this.question) return;
    const before = this.question;
    this.question = question;
    this.waitsForMains = stage.kind === "holding" && stage.point === "mains-on";
    this.endStep(before);
    if (stage.kind === "moving") this.beginStep(batch, stage.next);
    else if (question !== undefined && stage.kind !== "alone") this.agree(stage, question);
  }

  close(): void {
    for (const stop of this.deaf) stop();
    for (const one of this.alone) one.close();
  }

  /** The circuits may want more time before the next mains goes on: a person tries again. */
  private askAgain(): void {
    this.frames += 1;
    if (this.waitsForMains && this.question !== undefined && this.frames % FRAMES_PER_SECOND === 0)
      this.answer({ kind: "confirm", answers: this.question });
  }

  private beginStep(batch: Batch, { members, index }: RackNext): void {
    this.watched = new Map(members.map((member) => [member, { presses: 0 }]));
    for (const member of members) {
      const { functions, routine, frames } = stepAt(memberAt(batch, member).session.job, index);
      this.eyes[member]?.begin({ functions, routine, frames, together: members.length });
    }
    this.answer({ kind: "here" });
  }

  /** What was noticed only as the step ended is pressed for in the next one's first moments. */
  private endStep(question: string | undefined): void {
    for (const [member, { presses }] of this.watched) {
      const report = this.eyes[member]?.end();
      if (report && report.symptoms.length > 0 && presses === 0) this.press(member, question);
    }
    this.watched = new Map();
  }

  private press(member: number, question: string | undefined): void {
    const watched = this.watched.get(member);
    if (!watched || question === undefined) return;
    watched.presses += 1;
    this.answer({ kind: "differs", answers: question, member });
  }

  /** Agrees to whatever a person would agree to. */
  private agree(stage: RackStage, answers: string): void {
    if (stage.kind === "slow-start" || (stage.kind === "line-lost" && !stage.back)) return;
    if (stage.kind === "own-address")
      this.answer({ kind: "told-apart", answers, how: stage.free === undefined ? "others-unplugged" : "own-address" });
    else this.answer({ kind: stage.kind === "paused" ? "go-on" : "confirm", answers });
  }

  /** At one fixture, or at none. */
  private lookAlone(batch: Batch, index: number | undefined): void {
    if (index !== this.lookingAt && this.lookingAt !== undefined) this.alone[this.lookingAt]?.close();
    if (index !== undefined) {
      if (index !== this.lookingAt) this.alone[index]?.listen((input) => this.answer(input));
      this.lookingAt = index;
      this.alone[index]?.show(batch);
    }
    this.lookingAt = index;
  }
}
