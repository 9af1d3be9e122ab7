import { FRAMES_PER_SECOND, type Seconds } from "../../domain/units.ts";
import { beginSelfTest, isTestingItself, selfTestReport, stopSelfTest } from "../../wire/rdm/commands.ts";
import type { Dialogue } from "../../wire/rdm/dialogue.ts";
import { discover } from "../../wire/rdm/discovery.ts";
import { followSensors, readFixture } from "../../wire/rdm/fixture.ts";
import { type FixtureIdentity, Inquiry, readIdentity } from "../../wire/rdm/identity.ts";
import { type Uid, uidIn } from "../../wire/rdm/packet.ts";
import { saidBody } from "../events/fixture-said.ts";
import type { FixtureTold, WorldInput } from "../machine/input.ts";
import { LineError, type RdmDoor } from "../ports.ts";
import type { FixtureQuestion, FixtureWanted } from "../session/asked.ts";
import { NO_RDM, TalkWhenStill, whileOpen } from "./rdm-talk.ts";

/** What comes of it. */
export type FixtureAnswer = FixtureTold | Extract<WorldInput, { readonly kind: "remark" }>;

/** How often sensors are asked about, and whether the fixture's own test is over. */
const FOLLOW_EVERY: Seconds = 20;
const LOOK_EVERY: Seconds = 1;

/** A test of a fixture's own that was begun: told to stop when nobody waits for it any more. */
interface BegunTest {
  readonly universe: number;
  readonly uid: Uid;
  readonly lookedAt: Seconds;
}

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
  private readonly begun = new Map<string, BegunTest>();
  private readonly line = new TalkWhenStill();
  private beats = 0;
  private readonly toldListening = new Set<RdmDoor>();
  private closed = false;

  constructor(doors: ReadonlyMap<number, RdmDoor>, now: () => Seconds, hear: (answer: FixtureAnswer) => void) {
    this.doors = doors;
    this.now = now;
    this.hear = hear;
  }

  /** A question is out: a clock faster than real time waits for its answer. */
  get busy(): boolean {
    return this.line.busy;
  }

  /** Takes what is to be asked by now, after every change of the run. */
  consider(wanted: readonly FixtureQuestion[]): void {
    if (this.doors.size === 0) return;
    this.wanted = wanted;
    for (const { universe } of [...wanted, ...this.begun.values()]) this.work(universe);
  }

  /**
   * Makes one beat of the clock: whoever waits for stillness is let go when there is some, and what is due by now is asked.
   */
  beat(still: boolean): void {
    if (++this.beats % FRAMES_PER_SECOND === 0) this.consider(this.wanted);
    if (still) this.line.standsStill();
  }

  /** Asks nothing more; whoever waits for stillness is let go. */
  close(): void {
    this.closed = true;
    this.wanted = [];
    this.line.close();
  }

  private work(universe: number): void {
    const door = this.doors.get(universe);
    if (!door || this.underWay.has(universe) || this.given.has(universe)) return;
    const errand = this.leftOver(universe, door) ?? this.nextDue(universe, door);
    if (!errand) return;
    this.underWay.add(universe);
    this.opened(door, errand.work)
      .catch((error: unknown) => {
        if (!(error instanceof LineError)) throw error;
        this.settled.add(errand.key);
      })
      .finally(() => {
        this.underWay.delete(universe);
        this.work(universe);
      });
  }

  private nextDue(universe: number, door: RdmDoor): Errand | undefined {
    const next = this.wanted.find((one) => one.universe === universe && this.isDue(one));
    return next && { key: keyOf(next), work: () => this.answer(door, next) };
  }

  /** The step of its own test was stopped, or somebody left: the fixture is told so. */
  private leftOver(universe: number, door: RdmDoor): Errand | undefined {
    const isWanted = (key: string) => this.wanted.some((one) => keyOf(one) === key);
    const left = [...this.begun].find(([key, one]) => one.universe === universe && !isWanted(key));
    if (!left) return undefined;
    const [key, { uid }] = left;
    this.begun.delete(key);
    this.settled.add(key);
    return { key, work: async () => void (await this.talk(door, stopSelfTest(uid))) };
  }

  /** A gateway's answers come to a port that is bound only meanwhile; on a cable the run's own line is open already. */
  private async opened(door: RdmDoor, work: () => Promise<void>): Promise<void> {
    if (door.searched.kind === "by-us") return work();
    if (!this.toldListening.has(door)) this.hear({ kind: "remark", words: door.searched.listens });
    this.toldListening.add(door);
    return whileOpen(door, work);
  }

  private isDue(question: FixtureQuestion): boolean {
    if (this.closed) return false;
    if (question.wanted.kind !== "sensors") {
      const looked = this.begun.get(keyOf(question))?.lookedAt ?? Number.NEGATIVE_INFINITY;
      return !this.settled.has(keyOf(question)) && this.now() - looked >= LOOK_EVERY;
    }
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
    if (wanted.kind === "own-test") return this.testedItself(door, uid, question, wanted);
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

  /** Begun once, then looked at until it is over; what it reports by then is read before a person is asked what they saw. */
  private async testedItself(
    door: RdmDoor,
    uid: Uid,
    question: FixtureQuestion,
    { test, known }: Extract<FixtureWanted, { kind: "own-test" }>,
  ): Promise<void> {
    const { run, universe } = question;
    const key = keyOf(question);
    if (!this.begun.has(key)) {
      const trouble = await this.talk(door, beginSelfTest(uid, test.test));
      if (trouble === undefined) this.begun.set(key, { universe, uid, lookedAt: this.now() });
      else this.testOver(key, run, `its own test did not begin: ${trouble}`);
      return;
    }
    const running = await this.talk(door, isTestingItself(uid));
    if (!this.begun.has(key) || this.closed) return;
    this.begun.set(key, { universe, uid, lookedAt: this.now() });
    if (running === true) return;
    const said = await this.talk(door, readFixture(uid));
    if (said && !this.closed) this.hear({ kind: "fixture-said", run, body: saidBody(said) });
    this.testOver(
      key,
      run,
      running === undefined ? "it does not say how its own test ended" : selfTestReport(said, known.status.length),
    );
  }

  private testOver(key: string, run: string, words: string): void {
    this.begun.delete(key);
    this.settled.add(key);
    if (!this.closed) this.hear({ kind: "own-test-over", run, words });
  }

  /** Finds a fixture by serial number, label or UID; else by the address, or because there is only one. */
  private async uidOf(door: RdmDoor, { universe, serial, address, wanted }: FixtureQuestion): Promise<Uid | undefined> {
    if (wanted.kind !== "everything") return uidIn(wanted.known.uid);
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

  private async talk<T>(door: RdmDoor, dialogue: Dialogue<T>): Promise<T | undefined> {
    const said = await this.line.talk(door, dialogue);
    if (said.kind === "done") return said.value;
    for (const [universe, one] of this.doors) if (one === door) this.given.add(universe);
    this.hear({ kind: "remark", words: `${door.name}: ${NO_RDM}` });
    return undefined;
  }
}

/** Something to be asked on a line, and the name under which it is settled. */
interface Errand {
  readonly key: string;
  readonly work: () => Promise<void>;
}

const keyOf = ({ run, wanted }: FixtureQuestion): string =>
  wanted.kind === "own-test"
    ? `${run} own test ${wanted.test.test}, ${wanted.test.step}, try ${wanted.test.attempt}`
    : `${run} ${wanted.since}`;
