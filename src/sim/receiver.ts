import { type FunctionId, isAxisFunction } from "../domain/trade/functions.ts";
import { FRAME_SECONDS, type Seconds } from "../domain/units.ts";
import type { FixtureBuild, Menu } from "./build.ts";
import type { FrameMoment } from "./moment.ts";
import type { DataTrouble, PartTrouble } from "./trouble.ts";

/** Loss of data: more than 1.25 s without a frame (ANSI E1.11, secondary). */
const DATA_LOSS_S: Seconds = 1.25;

/** The DMX input: keeps the last frame, hands each part its own slots, notices when no data comes. */
export class Receiver {
  private readonly last = new Uint8Array(512);
  private silent_s: Seconds = 0;
  private heard = false;
  private menu: Menu;
  private readonly faulty: readonly DataTrouble[];
  private readonly axes: readonly FunctionId[];

  constructor(menu: Menu, build: FixtureBuild, troubles: readonly PartTrouble[]) {
    this.menu = menu;
    this.faulty = troubles.filter((trouble) => trouble.kind === "data");
    this.axes = build.parts.map((part) => part.function).filter(isAxisFunction);
  }

  /** Takes over what was set anew in the menu. */
  follow(menu: Menu): void {
    this.menu = menu;
  }

  /** Takes a frame of 512 levels, slot 1 first, or undefined where none came; a faulty input may lose it. */
  take(levels: Uint8Array | undefined, moment: FrameMoment): void {
    if (!levels || this.faulty.some(({ loses }) => loses(moment))) {
      this.pass();
      return;
    }
    this.last.set(levels.subarray(0, this.last.length));
    this.silent_s = 0;
    this.heard = true;
  }

  /** Lets a frame's time pass without a frame. */
  pass(): void {
    this.silent_s += FRAME_SECONDS;
  }

  get lost(): boolean {
    return !this.heard || this.silent_s > DATA_LOSS_S;
  }

  get dark(): boolean {
    return this.lost && (!this.heard || this.menu.onDataLoss === "dark");
  }

  get address(): number {
    return this.menu.address;
  }

  /** The levels, 0 to 255, that a part hears on its slots (from 1), with the menu's reversal and range applied. */
  levels(slots: readonly number[], id: FunctionId | undefined): readonly number[] {
    const heard = slots.map((slot) => this.last[this.menu.address + slot - 2] ?? 0);
    return id && this.axes.includes(id) ? this.asSet(heard, id) : heard;
  }

  private asSet(heard: readonly number[], id: FunctionId): readonly number[] {
    const { range } = this.menu;
    const inverted = id === "Pan" ? this.menu.panInverted : this.menu.tiltInverted;
    if (!inverted && range === 1) return heard;
    const most = 256 ** heard.length - 1;
    const raw = heard.reduce((value, level) => value * 256 + level, 0) / most;
    const set = Math.round((0.5 + (inverted ? 0.5 - raw : raw - 0.5) * range) * most);
    return heard.map((_, n) => Math.floor(set / 256 ** (heard.length - 1 - n)) % 256);
  }
}
