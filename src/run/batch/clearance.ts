import { staysClear, type Whereabouts } from "../session/clearance.ts";
import type { Batch, RackStage } from "./batch.ts";

/** What every stage of a rack says of the people round it; a fixture alone has a session, and a rule, of its own. */
const WHEREABOUTS: Readonly<Record<RackStage["kind"], Whereabouts>> = {
  opening: "eyes",
  holding: "eyes",
  "slow-start": "moves",
  moving: "moves",
  which: "eyes",
  confirming: "eyes",
  // Fixtures are taken out and put in.
  paused: "hands",
  "line-lost": "hands",
  between: "hands",
  // At its panel, or at the data cables of all others.
  "own-address": "hands",
  alone: "moves",
  finished: "hands",
};

/** The rack as it is when the next input comes: cleared still, or not any more. */
export const withClearance = (batch: Batch): Batch =>
  staysClear(batch.cleared, WHEREABOUTS[batch.stage.kind], stillFor(batch))
    ? batch
    : { ...batch, cleared: false, slowShown: false };

const stillFor = ({ now, signs, members }: Batch): number =>
  now - Math.max(signs.at(-1) ?? 0, ...members.flatMap(({ session }) => session.group.map(({ end }) => end)));
