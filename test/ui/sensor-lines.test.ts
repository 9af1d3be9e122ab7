import { expect, test } from "vitest";
import type { FixtureSaid } from "../../src/run/events/fixture-said.ts";
import { keyPlan } from "../../src/ui/key-plan.ts";
import { pageOf } from "../../src/ui/page.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { DrivenRack, spots } from "../kit/driven-rack.ts";
import { shippedBench } from "../kit/shipped.ts";
import { sightOf, sightOfAll, textOf } from "./sights.ts";

const SAID: FixtureSaid = {
  kind: "fixture-said",
  ...{ uid: "7FF0:00000002", maker: "", model: "", label: "", software: "", serial: "" },
  ...{ counters: {}, settings: {}, status: [], slots: [], self_tests: [], troubles: [] },
  sensors: [
    {
      ...{ number: 0, name: "Head", kind: "temperature", unit: "C", scale: 1 },
      ...{ value: 31, lowest: 20, highest: 90, normal: { from: 5, to: 85 } },
    },
    {
      ...{ number: 1, name: "Head fan", kind: "speed", unit: "rpm", scale: 1 },
      ...{ value: 2900, lowest: 0, highest: 3000, normal: { from: 1800, to: 4200 } },
    },
  ],
};

const followed = (minute: number, head: number, fan: number) => ({
  kind: "sensors-followed" as const,
  uid: SAID.uid,
  lit_min: minute,
  values: [
    { number: 0, value: head },
    { number: 1, value: fan },
  ],
});

test("while it soaks its sensors stand on the page: as they are now, drawn over the minutes, and a fan that stops is an alarm", () => {
  const run = new Driven(jobOf(["{ soak: Pan, seconds: 600 }"])).started().send({ kind: "fixture-said", body: SAID });
  for (const [minute, head, fan] of [
    [1, 34, 2900],
    [2, 46, 2850],
    [3, 58, 0],
  ] as const)
    run.send({ kind: "sensors-followed", body: followed(minute, head, fan) });
  expect(run.session.stage.kind).toBe("moving");
  const page = textOf(pageOf(sightOf(run.session)));
  expect(page).toContain("Head 58 C, normal 5 to 85");
  expect(page).toContain("! Head fan 0 rpm, normal 1800 to 4200: below");
  expect(page).toContain("Head over 2 min, 34 to 58 C: [ =#]");
});

test("of a rack that soaks each row has its fixture's sensors, and a fan that stops is an alarm with the fixture's name", () => {
  const rack = new DrivenRack({ fixtures: spots(3), steps: ["{ soak: Pan, seconds: 600 }"] });
  rack.begin().untilStage("moving");
  const page = () => textOf(pageOf(sightOfAll(rack.batch, { plan: keyPlan(shippedBench().buttons), frame: 300 })));
  expect(page()).not.toContain("Head");
  for (const [member, fans] of [
    [0, [2900, 2900]],
    [2, [2900, 0]],
  ] as const) {
    const run = rack.batch.members[member]!.run;
    rack.send({ kind: "fixture-said", run, body: SAID });
    for (const [minute, fan] of fans.entries())
      rack.send({ kind: "sensors-followed", run, body: followed(minute, 40 + 9 * minute, fan) });
  }
  expect(page()).toContain("! S3 Head fan 0 rpm, normal 1800 to 4200: below");
  const rows = page()
    .split("\n")
    .filter((row) => / S[123] /.test(row) && !row.includes("!  S3 Head fan 0 rpm, normal"));
  expect(rows.find((row) => row.includes(" S1 "))).toContain("Head 49 C [ #], Head fan 2900 rpm");
  expect(rows.find((row) => / S3 .*moves/.test(row))).toContain("! Head fan 0 rpm [# ], Head 49 C");
});
