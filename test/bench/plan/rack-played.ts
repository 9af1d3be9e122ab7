import type { Batch } from "../../../src/run/batch/batch.ts";
import { expectedOf } from "../../../src/run/batch/expected.ts";
import { stepOf } from "../../../src/run/batch/flow.ts";
import { careOf } from "../../../src/run/batch/turns.ts";
import { simulatedRackRun } from "../../kit/rack-unattended.ts";
import { type Row, row } from "../line/row.ts";
import { THREE_KINDS, threeKindsLibrary } from "./three-kinds.ts";

const SEEDS = (process.env["SEEDS"] ?? "1,2,3").split(",").map(Number);

/** Three of 24, each with another fault, each of another kind where it can be. */
const BAD: readonly (readonly (readonly [string, readonly string[]])[])[] = [
  [
    ["F-3", ["tilt-drive-slack"]],
    ["F-6", ["iris-leaf-kinked"]],
    ["F-12", ["zoom-output-burnt"]],
  ],
  [
    ["F-2", ["rotating-wheel-gummed"]],
    ["F-14", ["zoom-output-burnt"]],
    ["F-20", ["pan-drive-slack"]],
  ],
  [
    ["F-8", ["gobo-teeth-worn"]],
    ["F-24", ["colour-wheel-bent"]],
    ["F-10", ["zoom-rods-dry"]],
  ],
];

/**
 * Whole runs of 24 simulated fixtures of three kinds, three of them bad, watched by the simulated person: where the minutes go by
 * stage of the run, who was named, beside one fixture after the other (movement only, from the plan).
 */
export const rackPlayedBench = async (): Promise<readonly Row[]> => {
  const rows: Row[] = [];
  for (const [index, bad] of BAD.entries())
    for (const seed of SEEDS) rows.push(...(await played(`faults ${index + 1}, seed ${seed}`, new Map(bad), seed)));
  return rows;
};

const played = async (
  name: string,
  set: ReadonlyMap<string, readonly string[]>,
  seed: number,
): Promise<readonly Row[]> => {
  const spent = new Map<string, number>();
  let before = { at: 0, in: "slow movements" };
  const shown = (batch: Batch): void => {
    spent.set(before.in, (spent.get(before.in) ?? 0) + batch.now - before.at);
    before = { at: batch.now, in: stageOf(batch) };
  };
  const names = { rack: THREE_KINDS, sequence: "quick", bench: "bench" };
  const run = await simulatedRackRun(threeKindsLibrary, { names, run: name, set, seed, shown });
  if (!run.ok) throw new Error(JSON.stringify(run.problems));
  const { now, plan, members } = run.value.ended;
  const failed = members.filter(({ session }) => session.view.steps.some(({ judged }) => judged?.result === "fail"));
  const sound = failed.filter(({ serial }) => !set.has(serial));
  const alone = members.filter(({ session }) => session.view.added.length > 0);
  return [
    ...[...spent].map(([stage, seconds]) => row(`${name}: ${stage}`, "min", seconds / 60)),
    row(`${name}: the whole, beside one by one`, "min", now / 60, expectedOf(plan, members, 0).oneByOne / 60),
    row(`${name}: looked at alone`, "fixtures", alone.length),
    row(`${name}: of ${set.size} bad ones named`, "fixtures", failed.length - sound.length),
    row(`${name}: sound ones named`, "fixtures", sound.length),
  ];
};

const stageOf = (batch: Batch): string => {
  const { stage, plan } = batch;
  if (stage.kind === "alone") return "the suspects alone";
  if (stage.kind !== "moving") return "slow movements";
  if (plan.turns[stage.next.turn]?.kind === "start") return "switching on";
  return careOf(stepOf(batch, stage.next)) === "fine" ? "watched closely" : "watched at a glance";
};
