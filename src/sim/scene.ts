import type { FunctionId } from "../domain/trade/functions.ts";
import type { Degrees, Frame } from "../domain/units.ts";

/** What can be seen and heard of the fixture in one frame, in plain measurable quantities: never why. */
export interface Scene {
  readonly frame: Frame;
  readonly phase: "off" | "homing" | "ready";
  /** The words on the display; empty when it is dark. */
  readonly display: string;
  readonly parts: readonly PartScene[];
  readonly picture: Picture;
  /** Fans: how loud beside the usual, how much they tick, whether they turn. */
  readonly fan: { readonly loud: number; readonly tick: number; readonly turning: boolean };
  readonly smell: number;
  /** Pull of gravity along the beam: 1 lens up, -1 lens down. */
  readonly upright: number;
  readonly pan_deg: Degrees;
}

/** Loudness of each kind of sound, 0 to 1. */
export interface Sounds {
  readonly hum: number;
  readonly scrape: number;
  readonly knock: number;
  readonly tick: number;
  readonly whine: number;
  readonly rattle: number;
}

export const SILENCE: Sounds = { hum: 0, scrape: 0, knock: 0, tick: 0, whine: 0, rattle: 0 };

interface SeenPart {
  readonly function: FunctionId;
  /** A share of travel (0 to 1), or turns for what turns. */
  readonly at: number;
  /** Per second, in the measure of `at`. */
  readonly speed: number;
  /** Trembling on the spot, 0 to 1. */
  readonly trembles: number;
  readonly sounds: Sounds;
}

export type PartScene =
  | (SeenPart & { readonly kind: "travel"; readonly physical: number; readonly span: number; readonly patchy: number })
  | (SeenPart & {
      readonly kind: "wheel";
      readonly places: number;
      readonly item: string;
      readonly neighbour: string;
      readonly patchy: number;
    })
  | (SeenPart & { readonly kind: "turn"; readonly turning: boolean })
  /** `at` 1 is in the beam, or shut. */
  | (SeenPart & { readonly kind: "leaf"; readonly beating: boolean })
  | (SeenPart & { readonly kind: "light" });

/** What is seen on the wall. */
export interface Picture {
  /** Light that leaves the lens, 0 to 1. */
  readonly output: number;
  /** The light before anything moves into it: source, and what sits on the glass. */
  readonly field: number;
  readonly lit: boolean;
  readonly red: number;
  readonly green: number;
  readonly blue: number;
  /** Emitters that should shine and do not. */
  readonly dark: readonly FunctionId[];
  readonly tint: number;
  readonly veil: number;
  readonly shadow: number;
  readonly oval: number;
  readonly leak: number;
  readonly wobble: number;
  readonly soft: number;
}

/** A scene and what an experienced technician expects to see in its place. */
export interface Comparison {
  readonly scene: Scene;
  readonly twin: Scene;
}

/** Whether any light is on the wall. */
export const shines = (scene: Scene): boolean => scene.picture.output > 0.01;
