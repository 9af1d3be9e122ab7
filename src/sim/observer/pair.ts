import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { PartScene } from "../scene.ts";
import { wrap } from "../wheel.ts";

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
