import { keysOf } from "../keys.ts";
import { type HoldPointId, OPENING } from "./hold-points.ts";
import type { MechanismId } from "./mechanisms.ts";

/** What must come off before a look, how long that takes there and back, and what is confirmed first. Common practice, no source. */
export const COVERS = {
  outside: { words: "from outside, unplugged", minutes: 0, holds: ["unplugged"] },
  panel: { words: "at the panel, powered", minutes: 0, holds: ["still"] },
  base: { words: "base covers", minutes: 4, holds: OPENING },
  yoke: { words: "yoke covers", minutes: 5, holds: OPENING },
  head: { words: "head covers", minutes: 3, holds: OPENING },
  module: { words: "head covers, and the module lifted out", minutes: 10, holds: OPENING },
} as const satisfies Readonly<
  Record<string, { readonly words: string; readonly minutes: number; readonly holds: readonly HoldPointId[] }>
>;

export type CoverId = keyof typeof COVERS;
export const COVER_IDS = keysOf(COVERS);

/** A cover as screens and sheets say it. */
export const coverWords = (id: CoverId): string => COVERS[id].words;

/** An inspection: what to look at, what good and bad look like, what must come off first, how long. Words, no probabilities. */
export interface InspectionEntry {
  readonly look: string;
  readonly good: string;
  readonly bad: string;
  readonly cover: CoverId;
  /** Beyond the opening of its cover. */
  readonly minutes: number;
  readonly on: MechanismId;
}
