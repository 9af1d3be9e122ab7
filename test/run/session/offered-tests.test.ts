import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { whatNext } from "../../../src/diagnosis/model/next.ts";
import type { Observation } from "../../../src/diagnosis/model/observation.ts";
import type { Fitted } from "../../../src/diagnosis/model/places.ts";
import { drivableOn } from "../../../src/diagnosis/model/probe.ts";
import { compileStep } from "../../../src/plan/compile.ts";
import { shippedBench, shippedProfile } from "../../kit/shipped.ts";

const bench = shippedBench();
const failed = (functions: readonly Fitted[]): Observation => ({
  routine: "home",
  functions,
  result: "fail",
  symptoms: functions.flatMap(({ function: id }) => [{ symptom: "jerks", function: id }]),
  watched: "attended",
  litMinutes: 5,
  attitude: "standing",
});

const KINDS = ["spot-16bit", "beam", "wash", "led-wash", "scanner", "framing"] as const;

describe.each(KINDS)("%s: every test that is offered can be run at once", (name) => {
  const profile = shippedProfile(name);
  const fitted = fittedOf(profile);
  const offers = fitted.flatMap((one) => {
    const advice = whatNext(fitted, [failed([one])], [], [], undefined, drivableOn(profile, bench));
    return advice.kind === "offers" ? advice.offers : [];
  });
  const driven = offers.flatMap((offer) => (offer.kind === "driven" ? [offer] : []));

  test("it is compiled as a step that fits", () => {
    for (const { steps } of driven)
      for (const { routine, functions, options } of steps) {
        const step = { id: "added", line: 0, routine, functions, options };
        expect([routine, functions, compileStep(profile, bench, step, profile.rest, 1).fitted]).toEqual([
          routine,
          functions,
          true,
        ]);
      }
  });

  test("some are offered", () => {
    expect(driven.length).toBeGreaterThan(0);
  });
});
