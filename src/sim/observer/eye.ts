import { isAxisFunction } from "../../domain/trade/functions.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { PartScene } from "../scene.ts";
import { wrap } from "../wheel.ts";

/** What the eye can just tell, in the measure of the part. */
export interface Keen {
  /** That it stands elsewhere than before. */
  readonly place: number;
  /** That it stands wrong although one has not seen it stand right. */
  readonly gross: number;
  /** Movement at all, per second. */
  readonly speed: number;
}

/** A dot on the wall shows half a degree; the bare body of the fixture only a few degrees. */
const DOT = { place: 0.45, gross: 4, speed: 3 };
const BODY = { place: 2.5, gross: 8, speed: 6 };
const PLACES: Readonly<Record<string, number>> = { Focus1: 0.02, Zoom: 0.03, Iris: 0.04 };
const FLAG = 0.06;

/** What the eye can just tell of a part, in the part's own measure; without light only the body of the fixture shows. */
export const keenOn = (part: PartScene, light: "lit" | "dark"): Keen => {
  if (part.kind === "wheel") return { place: 0.12 / part.places, gross: 0.12 / part.places, speed: 0.3 / part.places };
  if (part.kind === "turn") return { place: 5 / 360, gross: 8 / 360, speed: 0.006 };
  if (part.kind === "leaf") return { place: 0.12, gross: 0.12, speed: 0.3 };
  if (part.kind === "travel" && isAxisFunction(part.function))
    return perDegree(light === "lit" ? DOT : BODY, part.span);
  const flag = part.function.startsWith("ColorSub") || part.function === "CTO";
  const place = flag ? FLAG : (PLACES[part.function] ?? 0.03);
  return { place, gross: 2.5 * place, speed: 0.04 };
};

const perDegree = ({ place, gross, speed }: Keen, span: number): Keen => ({
  place: place / span,
  gross: gross / span,
  speed: speed / span,
});

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
