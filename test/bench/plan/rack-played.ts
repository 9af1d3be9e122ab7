import { simulatedRackRun } from "../../../src/app/rack/rack-unattended.ts";
import type { Batch } from "../../../src/run/batch/batch.ts";
import { expectedOf } from "../../../src/run/batch/expected.ts";
import { type Row, row } from "../line/row.ts";
import { THREE_KINDS, threeKindsLibrary } from "./three-kinds.ts";

const SEEDS = (process.env["SEEDS"] ?? "1,2,3").split(",").map(Number);

/** Three of 24, each with another fault, each of another kind where it can be. */
const BAD: readonly (readonly (readonly [string, string])[])[] = [
  [
    ["F-3", "tilt-drive-slack"],
    ["F-6", "iris-leaf-kinked"],
    ["F-12", "zoom-output-burnt"],
  ],
  [
    ["F-2", "rotating-wheel-gummed"],
    ["F-14", "zoom-output-burnt"],
    ["F-20", "pan-drive-slack"],
  ],
  [
    ["F-8", "gobo-teeth-worn"],
    ["F-16", "colour-wheel-bent"],
    ["F-17", "prism-axle-dry"],
  ],
];

/**
 * Whole runs of 24 simulated fixtures of three kinds, three of them bad, watched by the simulated person: where the minutes go by
 * stage of the run, who was named, beside one fixture after the other (movement only, from the plan).
 */
export const rackPlayedBench = async (): Promise<readonly Row[]> => {
  const rows: Row[] = [];
  for (const [index, bad] of BAD.entries())
    for (const seed of SEEDS)
      rows.push(...(await played(`faults ${index + 1}, seed ${seed}`, new Map(bad.map(([s, f]) => [s, [f]])), seed)));
  return rows;
};

const played = async (
  name: string,
  set: ReadonlyMap<string, readonly string[]>,
  seed: number,
): Promise<readonly Row[]> => {
  const spent = new Map<string, number>();
  let before: { readonly at: number; readonly in: string } = { at: 0, in: "opening" };
  const shown = (batch: Batch): void => {
    spent.set(before.in, (spent.get(before.in) ?? 0) + batch.now - before.at);
    before = { at: batch.now, in: stageOf(batch) };
  };
  const names = { rack: THREE_KINDS, sequence: "quick", bench: "bench" };
  const run = await simulatedRackRun(threeKindsLibrary, { names, run: name, set, seed, shown });
  if (!run.ok) throw new Error(JSON.stringify(run.problems));
  const { ended } = run.value;
  const oneByOne = expectedOf(ended.plan, ended.members, 0).oneByOne;
  const named = ended.members
    .filter(({ session }) => session.view.steps.some(({ judged }) => judged?.result === "fail"))
    .map(({ serial }) => serial);
  const looked = ended.members.filter(({ session }) => session.view.added.length > 0).map(({ serial }) => serial);
  return [
    ...[...spent].filter(([, s]) => s >= 1).map(([stage, s]) => row(`${name}: ${stage}`, "min", s / 60)),
    row(`${name}: the whole, beside one by one`, "min", ended.now / 60, oneByOne / 60),
    row(
      `${name}: of the bad ones named (looked at alone: ${looked.join(" ")})`,
      "",
      [...set.keys()].filter((s) => named.includes(s)).length,
    ),
    row(
      `${name}: sound ones named ${named.filter((s) => !set.has(s)).join(" ")}`,
      "",
      named.filter((s) => !set.has(s)).length,
    ),
  ];
};

const stageOf = (batch: Batch): string => {
  const { stage } = batch;
  if (stage.kind === "alone") {
    const own = batch.members[stage.member];
    const s = own?.session.stage;
    return `alone ${own?.serial}: ${s?.kind}${s && s.kind === "moving" ? ` ${own?.session.view.steps[s.index]?.id}` : ""}`;
  }
  if (stage.kind !== "moving") return stage.kind;
  const turn = batch.plan.turns[stage.next.turn];
  return turn?.kind === "start" ? "mains" : `moving, ${stage.next.members.length > 3 ? "4 to 6" : "up to 3"}`;
};
