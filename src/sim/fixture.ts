import type { FunctionId } from "../domain/trade/functions.ts";
import { FRAME_SECONDS, type Seconds } from "../domain/units.ts";
import { assemble, type Copy, type FittedParts } from "./assemble.ts";
import {
  type ControlBuild,
  type ControlCommand,
  type FixtureBuild,
  houseDefaults,
  type Menu,
  slotsUnder,
} from "./build.ts";
import { chanceFrom, seedFor } from "./chance.ts";
import { Feeling } from "./feeling.ts";
import { Source } from "./lamp.ts";
import { type FrameMoment, litIn } from "./moment.ts";
import { HOMING_SEARCH, type Homing } from "./part.ts";
import { Receiver } from "./receiver.ts";
import type { Scene } from "./scene.ts";
import { type SeenTroubles, sceneOf, seenTroubles } from "./stage.ts";
import type { PartTrouble, SupplyTrouble } from "./trouble.ts";

export interface FixtureOptions {
  readonly troubles: readonly PartTrouble[];
  readonly seed: number;
  readonly attitude: "standing" | "hung";
  /** How warm it is when the mains comes on: 0 cold, 1 as hot as it gets. */
  readonly warmth: number;
  readonly copy: Copy;
}

/** The fixture as an experienced technician expects it: as drawn, nothing wrong. */
export const HEALTHY: FixtureOptions = { troubles: [], seed: 1, attitude: "standing", warmth: 0, copy: "drawn" };

/** Inside the head: cold, and what a lamp that burns adds in the end. Starter values, judgement. */
const COLD_C = 24;
const RISE_C = 42;

/** What a fixture's electronics know of it. */
interface Inside {
  readonly powered: boolean;
  readonly homed: boolean;
  /** Parts that did not find their home. */
  readonly lost: readonly FunctionId[];
  readonly lit: boolean;
  readonly temperature_C: number;
  readonly fanTurns: boolean;
  readonly up_s: Seconds;
}

/**
 * A simulated moving light. It takes universes as a real one takes slots and knows no clock: each call is one frame of
 * 25 ms. The mains is on from the start, so the first frames are its homing.
 */
export class Fixture {
  readonly build: FixtureBuild;
  private menu_: Menu;
  private slots: readonly (readonly number[])[];
  private readonly receiver: Receiver;
  private readonly feeling: Feeling;
  private readonly source: Source;
  private readonly seen: SeenTroubles;
  private readonly supplies: readonly SupplyTrouble[];
  private readonly controls: readonly { readonly control: Control; readonly index: number }[];
  private parts: readonly FittedParts[];
  private homeRun: HomeRun | undefined;
  private mainsOn = true;
  private homed = false;
  private frame = 0;

  constructor(build: FixtureBuild, options: FixtureOptions = HEALTHY) {
    this.build = build;
    const { troubles, seed, copy } = options;
    const settings = troubles.filter((trouble) => trouble.kind === "settings");
    this.menu_ = settings.reduce((menu, { change }) => change(menu), houseDefaults(build));
    this.slots = slotsUnder(this.menu_, build);
    this.receiver = new Receiver(this.menu_, build, troubles);
    this.feeling = new Feeling(build, options, chanceFrom(seedFor(seed, "feeling")));
    this.seen = seenTroubles(troubles);
    this.supplies = troubles.filter((trouble) => trouble.kind === "supply");
    this.source = new Source(build.source, this.seen.sources);
    this.controls = build.parts.flatMap((part, index) =>
      part.kind === "control" ? [{ control: new Control(part), index }] : [],
    );
    this.parts = assemble(build, troubles, copy, seed);
  }

  /** Puts the mains plug in or out. Out, everything stops where it is; in, the fixture homes anew. */
  mains(is: "on" | "off"): void {
    if (this.mainsOn && is === "off") this.source.extinguish();
    this.mainsOn = is === "on";
    this.homeRun = undefined;
    this.homed = false;
  }

  /** At its panel, or over the cable. */
  get menu(): Menu {
    return this.menu_;
  }
  set menu(menu: Menu) {
    this.menu_ = menu;
    this.slots = slotsUnder(menu, this.build);
    this.receiver.follow(menu);
  }

  /** What its own electronics know just now. They believe what they do not measure. */
  get inside(): Inside {
    const moment = this.feeling.moment(this.frame, false);
    const { air } = this.seen;
    return {
      powered: this.mainsOn,
      homed: this.homed,
      lost: this.homeRun?.failed ?? [],
      lit: this.source.lit_s > 0,
      temperature_C:
        COLD_C + RISE_C * moment.warmth + air.reduce((sum, { hotter }) => sum + (hotter?.(moment) ?? 0), 0),
      fanTurns: air.every(({ fan }) => fan(moment).turning),
      up_s: this.frame * FRAME_SECONDS,
    };
  }

  /** Plays one frame of 25 ms and says what shows: 512 levels, slot 1 first, or undefined when no frame came. */
  advance(levels: Uint8Array | undefined): Scene {
    const moment = this.feeling.moment(this.frame, this.mainsOn && !this.homed);
    this.frame += 1;
    if (this.mainsOn) this.live(levels, moment);
    else this.source.cool();
    return this.show(moment);
  }

  private live(levels: Uint8Array | undefined, moment: FrameMoment): void {
    if (!this.homed) this.home(moment);
    else this.work(levels, moment);
    const lit = litIn(moment, this.source.lit_s);
    this.source.advance(lit);
    const resets = this.supplies.some((trouble) => trouble.resets(lit));
    if (resets && this.homed) this.restart(this.build.homing_s);
  }

  /** Begins the fixture's own test, as over RDM: every part searches its home again, and it is deaf until that is over. */
  testItself(): void {
    if (this.mainsOn) this.restart(this.build.homing_s);
  }

  /** Deaf to DMX until every part has found its home or given up. */
  private home(moment: FrameMoment): void {
    this.homeRun ??= new HomeRun(this.parts, this.build.homing_s, moment);
    this.homed = this.homeRun.advance(moment);
    this.receiver.pass();
  }

  private restart(homing_s: number): void {
    this.homed = false;
    this.homeRun = new HomeRun(this.parts, homing_s, this.feeling.moment(this.frame, true));
  }

  private work(levels: Uint8Array | undefined, moment: FrameMoment): void {
    this.receiver.take(levels, moment);
    for (const { control, index } of this.controls) this.command(control.take(this.levelsOf(index)[0] ?? 0));
    for (const { part, index } of this.parts) part.obey(this.levelsOf(index), moment);
  }

  private command(command: ControlCommand | undefined): void {
    if (command?.is === "reset") this.restart(command.then_s);
    if (command?.is === "lamp-on") this.source.switch("on");
    if (command?.is === "lamp-off") this.source.switch("off");
  }

  private levelsOf(index: number): readonly number[] {
    return this.receiver.levels(this.slots[index] ?? [], this.build.parts[index]?.function);
  }

  private show(moment: FrameMoment): Scene {
    const parts = this.parts.map(({ part }) => part.show());
    this.feeling.sense(parts, this.source);
    const phase = !this.mainsOn ? "off" : this.homed ? "ready" : "homing";
    const { build, seen, source, receiver } = this;
    const failed = this.homeRun?.failed ?? [];
    return sceneOf({ parts, phase, build, troubles: seen, source, receiver, failed, moment });
  }
}

/** How far beside its level a command is still taken. */
const NEAR = 2;

/** The control slot: a command is obeyed once when its level has stood long enough. */
class Control {
  private held_s = 0;
  private held: ControlCommand | undefined;
  private readonly build: ControlBuild;
  constructor(build: ControlBuild) {
    this.build = build;
  }

  /**
   * The command that falls due in this frame, once its level was held for as long as it must; undefined where none does.
   * `level` is that of the command's slot, 0 to 255.
   */
  take(level: number): ControlCommand | undefined {
    const command = this.build.commands.find(({ at }) => Math.abs(at - level) <= NEAR);
    if (command !== this.held) this.held_s = 0;
    this.held = command;
    if (!command) return undefined;
    const before = this.held_s;
    this.held_s += FRAME_SECONDS;
    const due = command.hold_s - 1e-9;
    return before < due && this.held_s >= due ? command : before === 0 && command.hold_s === 0 ? command : undefined;
  }
}

/** One homing of the whole fixture: over when the slowest part is done. */
export class HomeRun {
  /** Parts that gave up; the display names them. */
  readonly failed: readonly FunctionId[];
  private readonly homings: readonly Homing[];
  private readonly time_s: Seconds;
  private readonly lasts: number;
  private elapsed_s: Seconds = 0;

  constructor(parts: readonly FittedParts[], time_s: Seconds, moment: FrameMoment) {
    const homings = parts.map(({ part }) => ({ id: part.function, homing: part.beginHoming(moment) }));
    this.homings = homings.flatMap(({ homing }) => homing ?? []);
    this.failed = homings.flatMap(({ id, homing }) => (homing?.failed ? [id] : []));
    this.time_s = Math.max(FRAME_SECONDS, time_s);
    this.lasts = 1 + HOMING_SEARCH * (Math.max(1, ...this.homings.map(({ tries }) => tries)) - 1);
  }

  /** Plays one frame of homing; true when the fixture is ready. */
  advance(moment: FrameMoment): boolean {
    this.elapsed_s += FRAME_SECONDS;
    const share = this.elapsed_s / this.time_s;
    for (const homing of this.homings) homing.advance(share, moment);
    return share >= this.lasts - 1e-9;
  }
}
