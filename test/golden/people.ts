import { type Batch, markedFor, memberAt, rackQuestionOf } from "../../src/run/batch/batch.ts";
import type { PersonInput, RackInput, WatcherInput } from "../../src/run/machine/input.ts";
import type { Watcher } from "../../src/run/ports.ts";
import type { HandTask } from "../../src/run/session/by-hand/task.ts";
import { stepAt } from "../../src/run/session/job.ts";
import { questionOf, type Session } from "../../src/run/session/session.ts";
import type { WatchesOne } from "../kit/of-one.ts";

/** A key without the question that it answers. */
type Said<I = PersonInput> = I extends { readonly answers: string } ? Omit<I, "answers"> : I;
export type RackSaid = Said<RackInput>;

/** What a person does in a recorded run; whatever is not named is agreed to. */
export interface Manner<Key = Said> {
  /** Keys at frames of a step's first attempt, by the step's id; of "spot" while it works to and fro. */
  readonly at?: Readonly<Record<string, readonly (readonly [frame: number, key: Key])[]>>;
  /** Answers to a question; undefined: the usual one. Asked once for every question. */
  readonly answers?: (session: Session) => readonly Said[] | undefined;
}

/** Follows a script, at a fixture by itself. */
export class ScriptedPerson implements WatchesOne {
  private readonly manner: Manner;
  private readonly frame: () => number;
  private answer: (input: WatcherInput) => void = () => {};
  private session: Session | undefined;
  private question: string | undefined;
  private readonly done = new Set<string>();
  private idle = 0;

  constructor(manner: Manner, frame: () => number) {
    this.manner = manner;
    this.frame = frame;
  }

  listen(answer: (input: WatcherInput) => void): void {
    this.answer = answer;
  }

  show(session: Session): void {
    this.session = session;
    const { stage } = session;
    const question = stage.kind === "line-lost" && !stage.back ? undefined : questionOf(session);
    if (question === this.question) return;
    this.question = question;
    this.idle = 0;
    if (question === undefined || WATCHES.includes(stage.kind)) return;
    for (const said of this.manner.answers?.(session) ?? usual(session)) this.say(said);
  }

  /** After every frame: the keys that are due with it. */
  readonly beat = (): void => {
    const stage = this.session?.stage;
    this.idle += 1;
    if (this.idle > TOO_LONG) throw new Error(`nobody answers ${JSON.stringify(stage)}`);
    if (stage?.kind !== "moving" && stage?.kind !== "at-spot") return;
    const id = stage.kind === "moving" ? stage.step.id : "spot";
    for (const [index, [frame, said]] of (this.manner.at?.[id] ?? []).entries()) {
      if (this.frame() !== frame || this.done.has(`${id}.${index}`)) continue;
      this.done.add(`${id}.${index}`);
      this.say(said);
    }
  };

  close(): void {}

  private say(said: Said): void {
    this.answer({ answers: this.question ?? "", ...said } as WatcherInput);
  }
}

/** Frames with the same question: longer than any movement. */
const TOO_LONG = 20_000;
const WATCHES: readonly string[] = ["moving", "slow-start", "stirring", "at-spot"];

const usual = ({ stage, person }: Session): readonly Said[] => {
  if (stage.kind === "by-hand")
    return [...(person === "" ? [{ kind: "person", initials: "KM" } as const] : []), ...byHand(stage.task)];
  if (stage.kind === "what-moved" || stage.kind === "setting-found") return [{ kind: "decline" }];
  return [{ kind: stage.kind === "paused" ? "go-on" : "confirm" }];
};

const byHand = (task: HandTask): readonly Said[] => {
  switch (task.kind) {
    case "dirt":
      return [{ kind: "choose", offer: 1 }];
    case "look":
    case "looks":
    case "cleans":
    case "clean":
      return [{ kind: "judge", result: "pass" }];
    case "reading":
      return [
        { kind: "filled", what: "value", text: "0.1" },
        { kind: "filled", what: "initials", text: "EE" },
        { kind: "judge", result: "pass" },
      ];
    case "sign":
      return [
        { kind: "judge", result: "pass" },
        { kind: "note", text: "held back" },
        { kind: "judge", result: "fail" },
      ];
    case "fault":
      return [{ kind: "name-fault", fault: "nothing" }];
    case "once-more":
      return [{ kind: "decline" }];
    default:
      return [{ kind: "confirm" }];
  }
};

export interface RackManner extends Manner<RackSaid> {
  readonly answersRack?: (batch: Batch) => readonly RackSaid[] | undefined;
}

/** The same before a rack; a fixture that is looked at alone is watched as on any bench. */
export class ScriptedRackPerson implements Watcher {
  private readonly manner: RackManner;
  private readonly frame: () => number;
  private readonly single: ScriptedPerson;
  private answer: (input: RackInput) => void = () => {};
  private batch: Batch | undefined;
  private beats = 0;
  private question: string | undefined;
  private readonly done = new Set<string>();

  constructor(manner: RackManner, frame: () => number) {
    this.manner = manner;
    this.frame = frame;
    this.single = new ScriptedPerson(manner.answers ? { answers: manner.answers } : {}, frame);
  }

  listen(answer: (input: RackInput) => void): void {
    this.answer = answer;
    this.single.listen((input) => this.pass(input as PersonInput));
  }

  show(batch: Batch): void {
    this.batch = batch;
    const { stage } = batch;
    if (stage.kind === "alone") this.single.show(memberAt(batch, stage.member).session);
    const question = stage.kind === "line-lost" && !stage.back ? `gone ${stage.universe}` : rackQuestionOf(batch);
    if (question === this.question) return;
    this.question = question;
    if (question === undefined || ["moving", "slow-start", "alone"].includes(stage.kind)) return;
    for (const said of this.manner.answersRack?.(batch) ?? usualOfRack(batch)) this.say(said);
  }

  readonly beat = (): void => {
    const { batch } = this;
    this.beats += 1;
    // The circuits may want more time before the next mains goes on: a person tries again.
    if (batch?.stage.kind === "holding" && this.beats % 40 === 0) this.say({ kind: "confirm" });
    if (batch?.stage.kind !== "moving") return;
    const { next } = batch.stage;
    const { id } = stepAt(memberAt(batch, next.members[0] ?? 0).session.job, next.index);
    for (const [index, [frame, said]] of (this.manner.at?.[id] ?? []).entries()) {
      if (this.frame() !== frame || this.done.has(`${id}.${index}`)) continue;
      this.done.add(`${id}.${index}`);
      this.say(said);
    }
  };

  close(): void {}

  private say(said: RackSaid): void {
    const question = this.batch && rackQuestionOf(this.batch);
    this.answer({ answers: question ?? "", ...said } as RackInput);
  }

  private pass(input: WatcherInput): void {
    const { batch } = this;
    if (batch?.stage.kind !== "alone") return;
    this.answer(markedFor(memberAt(batch, batch.stage.member).run, input));
  }
}

const usualOfRack = ({ stage }: Batch): readonly RackSaid[] => {
  if (stage.kind === "line-lost" && !stage.back) return [];
  if (stage.kind === "own-address")
    return [{ kind: "told-apart", how: stage.free === undefined ? "others-unplugged" : "own-address" }];
  return [{ kind: stage.kind === "paused" ? "go-on" : "confirm" }];
};
