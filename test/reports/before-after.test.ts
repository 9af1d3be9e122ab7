import { expect, test } from "vitest";
import type { StepResult } from "../../src/domain/trade/routines.ts";
import { beforeAndAfter } from "../../src/reports/before-after.ts";
import type { EventBody } from "../../src/run/events/event.ts";
import { viewOf } from "../../src/run/events/view.ts";
import { bodiesOf, judged, opened, started, told } from "../run/release/path.ts";

type Said = "pass" | "fail" | "unsure" | "not-watched" | undefined;
const runOf = (run: string, pan: Said, ...presses: readonly EventBody[]) =>
  [opened(["pan"]), started("pan"), ...presses, ...(pan ? [judged("pan", pan)] : [])].map((body) => told(body, run));
const became = (before: Said, after: Said, ...presses: readonly EventBody[]) => {
  const runs = [runOf("run-1", before, ...presses), runOf("run-2", after)] as const;
  const [a, b] = [viewOf(bodiesOf(runs[0])), viewOf(bodiesOf(runs[1]))];
  return beforeAndAfter(a, b, [...runs[0], ...runs[1]])[0];
};

test.each<[Said, Said, string]>([
  ["fail", "pass", "repaired"],
  ["unsure", "pass", "repaired"],
  ["fail", "fail", "still there"],
  ["unsure", "fail", "still there"],
  ["pass", "fail", "new"],
  ["pass", "pass", "good as before"],
  ["fail", undefined, "not tested"],
  ["fail", "not-watched", "not tested"],
])("%s, then %s: %s", (before, after, expected) => {
  expect(became(before, after)?.became).toBe(expected);
});

test("what came and went is not settled by one clean replay, and it is said how many are needed", () => {
  const press: EventBody = { kind: "pressed", step: "pan", attempt: 1, frame: 10, after_s: 1 };
  const moves = Array.from(
    { length: 10 },
    (_, n) => ["Pan" as const, n % 2, (n + 1) % 2, n * 4, 4] as ["Pan", number, number, number, number],
  );
  const ten = (run: string) => {
    const opening = opened(["pan"]) as Extract<EventBody, { kind: "run-opened" }>;
    return told({ ...opening, steps: opening.steps.map((step) => ({ ...step, moves })) }, run);
  };
  const [, ...first] = runOf("run-1", "fail", press, press);
  const [, ...second] = runOf("run-2", "pass");
  const history = [ten("run-1"), ...first, ten("run-2"), ...second];
  const view = (run: string) => viewOf(bodiesOf(history.filter((one) => one.run === run)));
  expect(beforeAndAfter(view("run-1"), view("run-2"), history)).toMatchObject([
    {
      became: "not settled" satisfies string,
      before: "fail" satisfies StepResult,
      after: "pass",
      passes: "seen in 2 of 10 passes; 10 clean since, 14 needed before it counts as gone",
    },
  ]);
});
