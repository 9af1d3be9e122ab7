import { loadRackMaterial } from "../../../src/app/rack/rack-data.ts";
import { rackJobFor } from "../../../src/app/rack/rack-job.ts";
import { NOTHING_LEARNED } from "../../../src/diagnosis/model/shop.ts";
import { secondsOf } from "../../../src/domain/units.ts";
import { expectedOf } from "../../../src/run/batch/expected.ts";
import type { Turn } from "../../../src/run/batch/turns.ts";
import { careOf } from "../../../src/run/batch/turns.ts";
import { type Row, row } from "../line/row.ts";
import { threeKindsLibrary as shelf, THREE_KINDS } from "./three-kinds.ts";

/** Share of fixtures that have something: three of 24. */
const THREE_BAD = 3 / 24;

/**
 * Where the minutes of a rack run go, in movement alone: switching on, slow movements, groups watched at a glance, groups watched
 * closely, and those that differ alone when three of 24 have something. Beside the whole stands one by one. Worked out from the
 * plan, nothing is played.
 */
export const rackMinutesBench = (): readonly Row[] =>
  [THREE_KINDS, "two-universes"].flatMap((rack) => ["quick", "full"].flatMap((sequence) => minutesOf(rack, sequence)));

const minutesOf = (rack: string, sequence: string): readonly Row[] => {
  const material = loadRackMaterial(shelf, { rack, sequence, bench: "bench" });
  if (!material.ok) throw new Error(`${rack} and ${sequence} are not sound`);
  const order = { run: "bench", person: "", learned: NOTHING_LEARNED, outputOf: () => "sim", set: new Map() };
  const job = rackJobFor(shelf, { ...material.value, ...order });
  if (!job.ok) throw new Error(`${rack} cannot be run`);
  const { members, plan } = job.value;
  const stepsOf = ({ members: own, steps }: Turn): number =>
    steps.reduce(
      (sum, step) =>
        sum + Math.max(...own.map((one) => secondsOf(members[one]?.session.job.timeline.steps[step]?.frames ?? 0))),
      0,
    );
  const minutes = (turns: readonly Turn[]): number => turns.reduce((sum, turn) => sum + stepsOf(turn), 0) / 60;
  const groups = plan.turns.filter(({ kind }) => kind === "together");
  const { together, alone, total, oneByOne } = expectedOf(plan, members, THREE_BAD);
  const [mains, all] = [minutes(plan.turns.filter(({ kind }) => kind === "start")), minutes(groups)];
  const { steps } = material.value.sequence.value;
  const closely = minutes(groups.filter((turn) => turn.steps.some((at) => steps[at] && careOf(steps[at]) === "fine")));
  const name = `${rack}, ${sequence}`;
  return [
    row(`${name}: switching on, stage by stage`, "min", mains),
    row(`${name}: slow movement before each pass`, "min", together / 60 - mains - all),
    row(`${name}: watched at a glance`, "min", all - closely),
    row(`${name}: watched closely`, "min", closely),
    row(`${name}: the odd ones alone`, "min", alone / 60),
    row(`${name}: nothing wrong, beside one by one`, "min", together / 60, oneByOne / 60),
    row(`${name}: three of 24 wrong, beside one by one`, "min", total / 60, oneByOne / 60),
  ];
};
