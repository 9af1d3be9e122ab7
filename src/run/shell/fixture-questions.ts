import { FRAMES_PER_SECOND, type Seconds } from "../../domain/units.ts";
import { discover } from "../../wire/rdm/discovery.ts";
import { readFixture } from "../../wire/rdm/fixture.ts";
import { type FixtureIdentity, Inquiry, readIdentity } from "../../wire/rdm/identity.ts";
import { followSensors } from "../../wire/rdm/sensors.ts";
import { type Uid, uidIn } from "../../wire/rdm/uid.ts";
import type { BodyOf } from "../events/event.ts";
import { type FixtureSaid, saidBody } from "../events/fixture-said.ts";
import { LineError, type RdmDoor } from "../ports.ts";
import type { FixtureQuestion } from "../session/asked.ts";
import { NO_RDM, talk } from "./rdm-talk.ts";

/** What comes of it. */
export type FixtureAnswer =
  | { readonly kind: "fixture-said"; readonly run: string; readonly body: FixtureSaid }
  | { readonly kind: "sensors-followed"; readonly run: string; readonly body: BodyOf<"sensors-followed"> }
  | { readonly kind: "remark"; readonly words: string };

/** Sensors are asked about so often. */
const FOLLOW_EVERY: Seconds = 20;

/**
 * Asks fixtures while a run goes on, one question at a time on every line, and only while everything on it stands still.
 * A line on which nothing answers is told of once and left alone.
 */
export class FixtureQuestions {
  private readonly doors: ReadonlyMap<number, RdmDoor>;
  private readonly now: () => Seconds;
  private readonly hear: (answer: FixtureAnswer) => void;
  private wanted: readonly FixtureQuestion[] = [];
  private readonly underWay = new Set<number>();
  private readonly given = new Set<number>();
  /** Asked everything after this power-up: answered, or not to be found. */
  private readonly settled = new Set<string>();
  private readonly found = new Map<number, readonly FixtureIdentity[]>();
  private readonly followedAt = new Map<string, Seconds>();
  private waiting: (() => void)[] = [];
  private asking = 0;
  private beats = 0;
  private readonly toldListening = new Set<RdmDoor>();
  private closed = false;

  constructor(doors: ReadonlyMap<number, RdmDoor>, now: () => Seconds, hear: (answer: FixtureAnswer) => void) {
    this.doors = doors;
    this.now = now;
    this.hear = hear;
  }

  /** A question is out: a clock in no real time waits for its answer. */
  get busy(): boolean {
    return this.asking > 0;
  }

  /** What is to be asked by now, after every change of the run. */
  consider(wanted: readonly FixtureQuestion[]): void {
    if (this.doors.size === 0) return;
    this.wanted = wanted;
    for (const { universe } of wanted) this.work(universe);
  }

  /** One beat of the clock: whoever waits for stillness is let go when there is some, and what is due by now is asked. */
  beat(still: boolean): void {
    if (++this.beats % FRAMES_PER_SECOND === 0) this.consider(this.wanted);
    if (!still || this.waiting.length === 0) return;
    const waiting = this.waiting.splice(0);
    this.asking += waiting.length;
    for (const go of waiting) go();
  }

  close(): void {
    this.closed = true;
    this.wanted = [];
    for (const go of this.waiting.splice(0)) go();
  }

  private work(universe: number): void {
    const door = this.doors.get(universe);
    if (!door || this.underWay.has(universe) || this.given.has(universe)) return;
    const next = this.wanted.find((one) => one.universe === universe && this.isDue(one));
    if (!next) return;
    this.underWay.add(universe);
    this.opened(door, () => this.answer(door, next))
      .catch((error: unknown) => {
        if (!(error instanceof LineError)) throw error;
        this.settled.add(keyOf(next));
      })
      .finally(() => {
        this.underWay.delete(universe);
        this.work(universe);
      });
  }

  /** A gateway's answers come to a port that is bound only meanwhile; on a cable the run's own line is open already. */
  private async opened(door: RdmDoor, work: () => Promise<void>): Promise<void> {
    if (door.searched.kind === "by-us") return work();
    if (!this.toldListening.has(door)) this.hear({ kind: "remark", words: door.searched.listens });
    this.toldListening.add(door);
    await door.open();
    await work().finally(() => door.close());
  }

  private isDue(question: FixtureQuestion): boolean {
    if (this.closed) return false;
    if (question.wanted.kind === "everything") return !this.settled.has(keyOf(question));
    const last = this.followedAt.get(question.run);
    return last === undefined || this.now() - last >= FOLLOW_EVERY;
  }

  private async answer(door: RdmDoor, question: FixtureQuestion): Promise<void> {
    const uid = await this.uidOf(door, question);
    if (uid === undefined) {
      this.settled.add(keyOf(question));
      return;
    }
    const { run, wanted } = question;
    if (wanted.kind === "everything") {
      const said = await this.talk(door, readFixture(uid));
      this.settled.add(keyOf(question));
      if (said && !this.closed) this.hear({ kind: "fixture-said", run, body: saidBody(said) });
      return;
    }
    this.followedAt.set(run, this.now());
    const known = wanted.known.sensors.map((sensor) => ({ ...sensor, normal: { from: undefined, to: undefined } }));
    const values = await this.talk(door, followSensors(new Inquiry(uid), known));
    if (!values || values.length === 0 || this.closed) return;
    this.hear({
      kind: "sensors-followed",
      run,
      body: {
        kind: "sensors-followed",
        uid: wanted.known.uid,
        lit_min: Math.max(0, this.now() - (question.litSince ?? this.now())) / 60,
        values: values.map(({ number, value }) => ({ number, value })),
      },
    });
  }

  /** By serial number, label or UID; else by the address, or because there is only one. */
  private async uidOf(door: RdmDoor, { universe, serial, address, wanted }: FixtureQuestion): Promise<Uid | undefined> {
    if (wanted.kind === "sensors") return uidIn(wanted.known.uid);
    const pick = (all: readonly FixtureIdentity[]) =>
      all.find((one) => [one.serial, one.label, one.uid].includes(serial)) ??
      all.find((one) => one.address === address) ??
      (all.length === 1 ? all[0] : undefined);
    const before = pick(this.found.get(universe) ?? []);
    const one = before ?? pick(await this.search(door, universe));
    return one && uidIn(one.uid);
  }

  private async search(door: RdmDoor, universe: number): Promise<readonly FixtureIdentity[]> {
    const uids =
      door.searched.kind === "by-gateway"
        ? await door.searched.table()
        : (await this.talk(door, discover()))?.found.map(({ uid }) => uid);
    if (!uids) return [];
    const all: FixtureIdentity[] = [];
    for (const uid of uids) {
      const one = await this.talk(door, readIdentity(uid));
      if (one) all.push(one);
    }
    this.found.set(universe, all);
    return all;
  }

  private async talk<T>(door: RdmDoor, dialogue: Parameters<typeof talk<T>>[0]): Promise<T | undefined> {
    let isAsking = false;
    const answered = () => {
      if (isAsking) this.asking -= 1;
      isAsking = false;
    };
    const quiet: RdmDoor = {
      ...door,
      exchange: (send) => door.exchange(send).finally(answered),
    };
    const before = async () => {
      await this.stillness();
      isAsking = !this.closed;
    };
    const said = await talk(dialogue, quiet, { before });
    if (said.kind === "done") return said.value;
    for (const [universe, one] of this.doors) if (one === door) this.given.add(universe);
    this.hear({ kind: "remark", words: `${door.name}: ${NO_RDM}` });
    return undefined;
  }

  private stillness(): Promise<void> {
    return this.closed ? Promise.resolve() : new Promise((resolve) => this.waiting.push(resolve));
  }
}

const keyOf = ({ run, wanted }: FixtureQuestion): string => `${run} ${wanted.since}`;
