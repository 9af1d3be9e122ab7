import { darkened, sampleRest } from "../../plan/sample.ts";
import type { LeftSpot, Spot } from "../batch/effect.ts";

/** What stands on every universe just now, and where the fixtures listen. A universe is silent until something plays on it. */
export class Levels {
  private readonly universes = new Map<number, Uint8Array>();
  /** What really went out last: frames that the line did not take were never told to anybody. */
  private readonly sent = new Map<number, Uint8Array>();
  private readonly spots = new Map<string, Spot>();
  private readonly left: ReadonlyMap<string, Uint8Array>;

  /** `left`: where fixtures were last commanded to stand when an earlier part of this run was left. */
  constructor(left: readonly LeftSpot[] = []) {
    this.left = new Map(left.map(({ spot, slots }) => [placeOf(spot), slots]));
  }

  /** The universes and their 512 levels, slot 1 first. */
  all(): readonly (readonly [number, Uint8Array])[] {
    return [...this.universes];
  }

  /**
   * Notes that the line is given what is on this universe now; call what is returned when it did not take
   * it. `universe` is its number, from 1.
   */
  taken(universe: number): () => void {
    const before = this.sent.get(universe);
    this.sent.set(universe, this.of(universe).slice());
    return () => {
      if (before) this.sent.set(universe, before);
    };
  }

  /** Notes fixtures that listen somewhere; nothing is sent to them yet. */
  meet(spots: readonly Spot[]): void {
    for (const spot of spots) {
      const known = this.spots.has(placeOf(spot));
      this.spots.set(placeOf(spot), spot);
      if (!known && this.universes.has(spot.universe)) this.put(spot, this.atFirst(spot));
    }
  }

  /**
   * Makes these fixtures ready to play. On a universe that was silent, everybody who listens there
   * begins where it was left, else at rest.
   */
  begin(spots: readonly Spot[]): void {
    this.meet(spots);
    const silent = new Set(spots.map(({ universe }) => universe).filter((one) => !this.universes.has(one)));
    for (const universe of silent) this.universes.set(universe, new Uint8Array(512));
    for (const spot of this.spots.values()) if (silent.has(spot.universe)) this.put(spot, this.atFirst(spot));
  }

  /** Sets the slots of one fixture, from its start address on. */
  put({ universe, address }: Spot, slots: Uint8Array): void {
    this.of(universe).set(slots, address - 1);
  }

  /**
   * Makes dark, with every axis held where it was last commanded by a frame that went out: all but those
   * that listen where one of `but` does.
   */
  darken(but: readonly Spot[]): void {
    const places = new Set(but.map(placeOf));
    for (const spot of this.spots.values()) {
      const { universe, address, profile } = spot;
      const levels = this.sent.get(universe) ?? this.universes.get(universe);
      if (!levels || places.has(placeOf(spot))) continue;
      this.put(spot, darkened(profile, levels.slice(address - 1, address - 1 + profile.slots)));
    }
  }

  /** What it is told before anything of its own plays. */
  private atFirst(spot: Spot): Uint8Array {
    return this.left.get(placeOf(spot)) ?? sampleRest(spot.profile);
  }

  private of(universe: number): Uint8Array {
    const levels = this.universes.get(universe);
    if (!levels) throw new Error(`Bug: nothing is known of universe ${universe}`);
    return levels;
  }
}

const placeOf = ({ universe, address }: Spot): string => `${universe}.${address}`;
