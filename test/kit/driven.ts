import { jobFor, type Order } from "../../src/app/fixture/job.ts";
import { parseSequence } from "../../src/data/sequence/parse.ts";
import { secondsOf } from "../../src/domain/units.ts";
import type { BodyOf, EventBody, EventKind } from "../../src/run/events/event.ts";
import type { Diagnosis, Findings } from "../../src/run/machine/diagnose.ts";
import type { Input, Stamped } from "../../src/run/machine/input.ts";
import type { SessionEffect } from "../../src/run/session/change.ts";
import type { Job } from "../../src/run/session/job.ts";
import { openSession, questionOf, type Session } from "../../src/run/session/session.ts";
import { step } from "../../src/run/session/step.ts";
import { diagnosed } from "./diagnosed.ts";
import { must, shippedBench, shippedProfile, shippedText } from "./shipped.ts";

const ORDER: Order = {
  serial: "A-17",
  universe: 1,
  address: 1,
  output: "test",
  simulated: true,
  set: [],
  mode: "attended",
  replays: undefined,
  hire: undefined,
};

/** A job of a few steps on the shipped spot. */
export const jobOf = (steps: readonly string[], order: Partial<Order> = {}, profile = "spot-16bit"): Job => {
  const text = `sequence: test\ntitle: Test\nsteps:\n${steps.map((one) => `  - ${one}\n`).join("")}`;
  return must(
    jobFor(
      {
        profile: { value: shippedProfile(profile), text: shippedText(`profiles/${profile}.yaml`) },
        sequence: { value: must(parseSequence("test.yaml", text)), text },
        bench: { value: shippedBench(), text: shippedText("benches/bench.yaml") },
      },
      { ...ORDER, ...order },
    ),
  );
};

/** A session driven by hand: no clock, no doors; the line opens and the journal answers at once. */
export class Driven {
  session: Session;
  readonly effects: SessionEffect[] = [];
  at = 0;
  /** "by hand": a test answers it when it wants. */
  diagnosis: "at once" | "by hand" = "at once";
  /** What answers: the model, or something that a test says for it. */
  diagnose: (findings: Findings) => Diagnosis = diagnosed;

  constructor(job: Job, earlier: readonly EventBody[] = []) {
    this.session = openSession(job, "KM", earlier);
  }

  /** Any input; one that wants a question gets the open one. */
  send(input: Input | (Omit<Input, "answers"> & { readonly kind: string }), frame = 0): this {
    const answers = questionOf(this.session) ?? "nothing";
    const stamped = {
      answers,
      universe: 1,
      run: "r",
      ...input,
      at: this.at,
      frame,
      after: secondsOf(frame),
    } as Stamped;
    const [session, effects] = step(this.session, stamped);
    this.session = session;
    this.effects.push(...effects);
    const asked = effects.findLast((effect) => effect.kind === "diagnose");
    return asked && this.diagnosis === "at once" ? this.answerDiagnosis(asked) : this;
  }

  /** What another thread would send back. */
  answerDiagnosis({ key, findings } = this.askedDiagnosis()): this {
    return this.send({ kind: "diagnosed", answers: key, diagnosis: this.diagnose(findings) });
  }

  private askedDiagnosis() {
    const asked = this.effects.findLast((effect) => effect.kind === "diagnose");
    if (!asked) throw new Error("nobody asked for a diagnosis");
    return asked;
  }

  begin(): this {
    return this.send({ kind: "begin" }).send({ kind: "line-open" });
  }

  /** Time passes and the playing comes to its end. */
  playOut(rig = { worstLate: 0, dropped: 0 }): this {
    const playing = this.effects.findLast((effect) => effect.kind === "play");
    this.at += secondsOf(playing?.step.frames ?? 0);
    return this.send({ kind: "played", rig });
  }

  /** Through the safety points and the slow start, into the first step. */
  started(): this {
    this.begin().send({ kind: "confirm" });
    if (this.session.stage.kind === "slow-start") this.playOut();
    if (this.session.stage.kind === "holding") this.send({ kind: "confirm" });
    return this;
  }

  events<K extends EventKind>(kind: K): readonly BodyOf<K>[] {
    return this.effects.flatMap((effect) =>
      effect.kind === "write" && effect.body.kind === kind ? [effect.body as BodyOf<K>] : [],
    );
  }

  get bodies(): readonly EventBody[] {
    return this.effects.flatMap((effect) => (effect.kind === "write" ? [effect.body] : []));
  }

  results(): Readonly<Record<string, string>> {
    return Object.fromEntries(this.session.view.steps.map(({ id, judged }) => [id, judged?.result ?? "open"]));
  }
}
