import { expect, test } from "vitest";
import { withClearance } from "../../../src/run/machine/clearance.ts";
import type { Running } from "../../../src/run/machine/running.ts";
import type { StageKind } from "../../../src/run/machine/stages.ts";

const MINUTE = 60;

const after = (kind: StageKind, now: number, signs: readonly number[], stopped?: number) => {
  const state: Running = {
    person: "KM",
    stage: { kind },
    now,
    signs,
    cleared: true,
    slowShown: true,
    trouble: undefined,
  };
  const { cleared, slowShown } = withClearance(state, stopped);
  return { cleared, slowShown };
};

/** Facts of the trade, common practice, no source: who was silent for a minute may have walked up to the fixture. */
test.each([
  {
    stage: "asking",
    now: 100,
    signs: [100 - MINUTE],
    stopped: undefined,
    holds: true,
    because: "a minute of silence is still somebody at the screen",
  },
  {
    stage: "asking",
    now: 100,
    signs: [100 - MINUTE - 0.1],
    stopped: undefined,
    holds: false,
    because: "after more than a minute nobody knows where people are",
  },
  {
    stage: "asking",
    now: 100,
    signs: [10],
    stopped: 100 - MINUTE,
    holds: true,
    because: "nobody walks up while it moves: the silence counts from the end of the movement",
  },
  {
    stage: "asking",
    now: 100,
    signs: [10],
    stopped: 100 - MINUTE - 0.1,
    holds: false,
    because: "the same a moment later",
  },
  {
    stage: "moving",
    now: 1000,
    signs: [0],
    stopped: undefined,
    holds: true,
    because: "while it moves whoever is there watches, however long it takes",
  },
  {
    stage: "by-hand",
    now: 1,
    signs: [1],
    stopped: undefined,
    holds: false,
    because: "hands are at the fixture at once",
  },
] as const)("the answer about the area at $now s, $stage: holds $holds; $because", (row) => {
  expect(after(row.stage, row.now, row.signs, row.stopped)).toEqual({ cleared: row.holds, slowShown: row.holds });
});
