import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { framesIn } from "../../../src/domain/units.ts";
import { tellJobSheet } from "../../../src/reports/job-sheet-text.ts";
import { observationsOf } from "../../../src/run/events/observations.ts";
import { pageOf } from "../../../src/ui/page.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { shippedProfile } from "../../kit/shipped.ts";
import { sheetOf } from "../../reports/sheets.ts";
import { sightOf, textOf } from "../../ui/sights.ts";

const spot = shippedProfile("spot-16bit");
/** The profile: pan needs 2.6 s from end to end and follows 0.3 s late; people take 0.4 s (judgement). */
const timed = (slower_s: number): Driven => {
  const run = new Driven(jobOf(["{ stopwatch: Pan, passes: 6 }", "sweep: Iris"])).started();
  const [step] = run.session.job.timeline.steps;
  for (const [n, { start }] of step!.moves.filter(({ function: id }) => id === "Pan").entries())
    run.send({ kind: "press" }, start + framesIn(2.6 + 0.3 + 0.4 + slower_s + 0.02 * (n % 3)));
  return run.playOut();
};

describe("a press on arrival is a stopwatch", () => {
  test("a slow axis is named with its time before anybody is asked, and ENTER agrees", () => {
    const run = timed(1.2);
    expect(run.session.stage).toMatchObject({ symptoms: [{ symptom: "slow", function: "Pan" }] });
    const page = textOf(pageOf(sightOf(run.session))).replaceAll(/\s+/g, " ");
    expect(page).toMatch(
      /On the way up \(DMX rising\) 4\.[01] s, plus or minus 0\.[12] s \(3 presses\); should be 2\.9 s: slower/,
    );
    run.send({ kind: "confirm" });
    const sheet = tellJobSheet(sheetOf(run)).replaceAll(/\s+/g, " ");
    expect(sheet).toContain("How long it took, from presses on arrival pan: on the way up (DMX rising) 4.1 s");
    expect(run.results()["stopwatch-pan"]).toBe("fail");
    const slow = rank(fittedOf(spot), observationsOf(run.session.view, spot));
    const because = slow.faults.flatMap((one) => one.because);
    expect(because).toContain("pan slower than it should be");
  });

  test("in its time it passes, though there were presses", () => {
    const run = timed(0);
    expect(run.session.stage).toMatchObject({ symptoms: [] });
    expect(run.send({ kind: "confirm" }).results()["stopwatch-pan"]).toBe("pass");
  });
});
