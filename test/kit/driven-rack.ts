import { rackJobFor } from "../../src/app/rack/rack-job.ts";
import { parseRack } from "../../src/data/rack/parse.ts";
import { parseSequence } from "../../src/data/sequence/parse.ts";
import { NOTHING_LEARNED } from "../../src/diagnosis/model/shop.ts";
import { secondsOf } from "../../src/domain/units.ts";
import { fileLibrary } from "../../src/io/files/files.ts";
import { type Batch, memberAt, openBatch, rackQuestionOf } from "../../src/run/batch/batch.ts";
import type { RackEffect } from "../../src/run/batch/change.ts";
import { stepRack } from "../../src/run/batch/step.ts";
import { identifyTurns } from "../../src/run/batch/turns.ts";
import type { Input, RackInput } from "../../src/run/machine/input.ts";
import { diagnosed } from "./diagnosed.ts";
import { must, shippedBench, shippedProfile, shippedText } from "./shipped.ts";

export interface RackOfTests {
  readonly fixtures: readonly string[];
  readonly steps: readonly string[];
  /** Further lines of the rack file. */
  readonly more?: string;
  readonly lines?: readonly number[];
}

/** Entries of a rack file: so many spots on one shelf, each with an address of its own. */
export const spots = (count: number, universe = 1, first = 1): readonly string[] =>
  Array.from(
    { length: count },
    (_, n) =>
      `{ serial: S${first + n}, profile: spot-16bit, shelf: top, place: "${first + n}", universe: ${universe}, address: ${1 + 30 * n} }`,
  );

export const rackJobOf = ({ fixtures, steps, more = "", lines = [1] }: RackOfTests) => {
  const text = [
    "rack: test",
    "title: Test rack",
    `lines: [${lines.map((universe) => `{ universe: ${universe}, output: sim }`).join(", ")}]`,
    more,
    `fixtures:\n${fixtures.map((one) => `  - ${one}\n`).join("")}`,
  ].join("\n");
  const sequence = `sequence: test\ntitle: Test\nsteps:\n${steps.map((one) => `  - ${one}\n`).join("")}`;
  const names = ["spot-16bit", "led-wash"];
  const kinds = new Map(names.map((name) => [name, shippedProfile(name)]));
  const rack = must(
    parseRack("test.yaml", text, (name) => ({ ok: true, value: kinds.get(name) ?? shippedProfile(name) })),
  );
  return must(
    rackJobFor(fileLibrary(), {
      run: "r",
      person: "KM",
      rack: { value: rack, text },
      sequence: { value: must(parseSequence("test.yaml", sequence)), text: sequence },
      bench: { value: shippedBench(), text: shippedText("benches/bench.yaml") },
      profiles: new Map(names.map((name) => [name, shippedText(`profiles/${name}.yaml`)])),
      learned: NOTHING_LEARNED,
      outputOf: () => "sim",
      set: new Map(),
    }),
  );
};

/** A rack whose fixtures wiggle at one address after the other, and each time it is asked who moved; its own steps are not played. */
export const identifyingRack = (order: RackOfTests): DrivenRack => {
  const { plan, members } = rackJobOf({ ...order, steps: ["identify: fixture"] });
  const fixtures = members.map(({ serial, place, spot }) => ({
    serial,
    place,
    profile: spot.profile,
    start: { universe: spot.universe, slot: spot.address },
    ganged: false,
    uid: undefined,
    branch: undefined,
    circuit: undefined,
  }));
  return new DrivenRack(openBatch({ ...plan, turns: identifyTurns(fixtures, 0), asks: "who-moved" }, members, "KM"));
};

/** A rack run driven by hand: no clock, no doors; the lines open and the journal answers at once. */
export class DrivenRack {
  batch: Batch;
  readonly effects: RackEffect[] = [];
  at = 0;

  constructor(order: RackOfTests | Batch) {
    this.batch = "plan" in order ? order : opened(order);
  }

  /** Any input; one that wants a question gets the open one. */
  send(input: Input | { readonly kind: string }, frame = 0): this {
    const answers = rackQuestionOf(this.batch) ?? "nothing";
    const stamped = { answers, ...input, at: this.at, frame, after: secondsOf(frame) } as Parameters<
      typeof stepRack
    >[1];
    const [batch, effects] = stepRack(this.batch, stamped);
    this.batch = batch;
    this.effects.push(...effects);
    const asked = effects.findLast((effect) => effect.kind === "diagnose");
    return asked ? this.send({ kind: "diagnosed", answers: asked.key, diagnosis: diagnosed(asked.findings) }) : this;
  }

  differs(serial: string, frame = 400): this {
    const member = this.batch.members.findIndex((one) => one.serial === serial);
    return this.send({ kind: "differs", member } as RackInput, frame);
  }

  /** All lines that are asked for open. */
  begin(): this {
    this.send({ kind: "begin" });
    for (const effect of [...this.effects])
      if (effect.kind === "open-line") this.send({ ...effect, kind: "line-open" });
    return this;
  }

  /** Time passes and what plays comes to its end. */
  playOut(): this {
    const playing = this.playing();
    this.at += secondsOf(Math.max(0, ...(playing?.parts.map(({ step }) => step.frames) ?? [])));
    return this.send({ kind: "played", rig: { worstLate: 0, dropped: 0 } });
  }

  playing() {
    return this.effects.findLast((effect) => effect.kind === "play");
  }

  /** Who is sent something by what plays now. */
  movers(): readonly string[] {
    const spots = this.playing()?.parts.flatMap((part) => part.spots) ?? [];
    return this.batch.members
      .filter(({ spot }) => spots.some((one) => one.universe === spot.universe && one.address === spot.address))
      .map(({ serial }) => serial);
  }

  /** Says yes and lets everything play out until the rack is there. */
  until(there: (batch: Batch) => boolean): this {
    for (let turn = 0; !there(this.batch); turn++) {
      if (turn > 2000) throw new Error(`it never came; it stands at ${JSON.stringify(this.batch.stage)}`);
      const { kind } = this.batch.stage;
      const alone =
        this.batch.stage.kind === "alone" ? memberAt(this.batch, this.batch.stage.member).session.stage.kind : kind;
      if (["moving", "slow-start", "stirring"].includes(alone)) this.playOut();
      else this.send({ kind: "confirm" });
    }
    return this;
  }

  untilStage(kind: Batch["stage"]["kind"]): this {
    return this.until(({ stage }) => stage.kind === kind);
  }

  result(serial: string, step: string): string {
    const member = this.batch.members.find((one) => one.serial === serial);
    return member?.session.view.steps.find(({ id }) => id === step)?.judged?.result ?? "open";
  }

  closed(): Readonly<Record<string, string>> {
    return Object.fromEntries(this.batch.members.map(({ serial, session }) => [serial, session.view.closed ?? "open"]));
  }
}

const opened = (order: RackOfTests): Batch => {
  const { plan, members } = rackJobOf(order);
  return openBatch(plan, members, "KM");
};
