import { darkened, sampleRest } from "../../plan/sample.ts";
import type { Spot } from "../batch/wish.ts";

/** What stands on every universe just now, and where the fixtures listen. A fixture that nothing was sent to yet rests. */
export class Levels {
  private readonly universes = new Map<number, Uint8Array>();
  private readonly spots = new Map<string, Spot>();

  /** Universes and their 512 levels, slot 1 first. */
  all(): readonly (readonly [number, Uint8Array])[] {
    return [...this.universes];
  }

  meet(spots: readonly Spot[]): void {
    for (const spot of spots) {
      if (this.spots.has(placeOf(spot))) continue;
      this.spots.set(placeOf(spot), spot);
      if (!this.universes.has(spot.universe)) this.universes.set(spot.universe, new Uint8Array(512));
      this.put(spot, sampleRest(spot.profile));
    }
  }

  put({ universe, address }: Spot, slots: Uint8Array): void {
    this.of(universe).set(slots, address - 1);
  }

  rest(): void {
    for (const spot of this.spots.values()) this.put(spot, sampleRest(spot.profile));
  }

  /** Still and dark, all but those that listen where one of `but` does. */
  darken(but: readonly Spot[]): void {
    const places = new Set(but.map(placeOf));
    for (const spot of this.spots.values()) {
      const { universe, address, profile } = spot;
      const start = address - 1;
      if (!places.has(placeOf(spot)))
        this.put(spot, darkened(profile, this.of(universe).slice(start, start + profile.slots)));
    }
  }

  private of(universe: number): Uint8Array {
    const levels = this.universes.get(universe);
    if (!levels) throw new Error(`Bug: nothing is known of universe ${universe}`);
    return levels;
  }
}

const placeOf = ({ universe, address }: Spot): string => `${universe}.${address}`;
