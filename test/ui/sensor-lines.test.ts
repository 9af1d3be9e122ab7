import { expect, test } from "vitest";
import type { FixtureSaid } from "../../src/run/events/fixture-said.ts";
import { pageOf } from "../../src/ui/page.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { sightOf, textOf } from "./sights.ts";

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

test("while it soaks its sensors stand on the page: as they are now, drawn over the minutes, and a fan that stops is an alarm", () => {
  const run = new Driven(jobOf(["{ soak: Pan, seconds: 600 }"])).started().send({ kind: "fixture-said", body: SAID });
  for (const [minute, head, fan] of [
    [1, 34, 2900],
    [2, 46, 2850],
    [3, 58, 0],
  ] as const)
    run.send({
      kind: "sensors-followed",
      body: {
        kind: "sensors-followed",
        uid: SAID.uid,
        lit_min: minute,
        values: [
          { number: 0, value: head },
          { number: 1, value: fan },
        ],
      },
    });
  expect(run.session.stage.kind).toBe("moving");
  const page = textOf(pageOf(sightOf(run.session)));
  expect(page).toContain("Head 58 C, normal 5 to 85");
  expect(page).toContain("! Head fan 0 rpm, normal 1800 to 4200: below");
  expect(page).toContain("Head over 2 min, 34 to 58 C: [ =#]");
});
