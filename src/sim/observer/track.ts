import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { PartScene } from "../scene.ts";
import { wrap } from "../wheel.ts";

/** The last frames of something that moves, smoothed as the eye smooths it. */
export class Track {
  private readonly places: number[] = [];
  private readonly speeds: number[] = [];
  /** Frames for which it has stood. */
  still = 0;

  /**
   * Takes in where it is in this frame. `at` is in its own measure (share of travel, or turns), and `slow` is the speed, in
   * that measure per second, that counts as standing.
   */
  add(at: number, slow: number): void {
    this.places.push(at);
    if (this.places.length > SMOOTH + 1) this.places.shift();
    const speed = ((at - (this.places[0] ?? at)) / Math.max(1, this.places.length - 1)) * 40;
    this.speeds.push(speed);
    if (this.speeds.length > STEADY) this.speeds.shift();
    this.still = Math.abs(speed) < slow ? this.still + 1 : 0;
  }

  /** Per second, over the last tenth of a second. */
  get speed(): number {
    return this.speeds.at(-1) ?? 0;
  }

  /** Which way it goes now; 0 when it stands. */
  get heading(): number {
    return this.still > 0 ? 0 : Math.sign(this.speed);
  }

  /** Neither speeding up nor slowing down nor stepping, for a quarter of a second. */
  get steady(): boolean {
    const now = Math.abs(this.speed);
    if (this.speeds.length < STEADY) return false;
    return this.speeds.every(
      (speed) => speed * this.speed > 0 && Math.abs(speed) > 0.75 * now && Math.abs(speed) < 1.33 * now,
    );
  }
}

const SMOOTH = 4;
const STEADY = 10;

/** One part as it is and as it should be, in one frame. */
export interface Pair {
  readonly mine: PartScene;
  readonly twin: PartScene;
  readonly light: "lit" | "dark";
  readonly upright: number;
}

/** What one glance gives: a start ("there!"), and words for it when there are any yet. */
export interface Glance {
  readonly there: boolean;
  readonly symptoms: readonly SymptomId[];
}

export const NOTHING: Glance = { there: false, symptoms: [] };

/**
 * How far a part is off its place, in its own measure (share of its travel, or turns);
 * the shorter way round for what turns.
 */
export const offOf = ({ mine, twin }: Pair): number => {
  const off = mine.at - twin.at;
  return twin.kind === "wheel" || twin.kind === "turn" ? wrap(off) : off;
};
