import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { tellJobSheet } from "../../../src/reports/job-sheet-text.ts";
import { jobSheetPage } from "../../../src/reports/page/job-sheet-page.ts";
import { observationsOf } from "../../../src/run/events/observations.ts";
import { diagnose } from "../../../src/run/machine/diagnose.ts";
import { releaseStatusOf } from "../../../src/run/release/release-status.ts";
import { historyNow } from "../../../src/run/session/by-hand/holds.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { sheetOf } from "../../reports/sheets.ts";

/** Something was seen, a key was pressed, and the run ended before anybody was asked what it was. */

const STEPS = ["{ sweep: Pan, passes: 2 }", "{ sweep: Tilt, passes: 2 }"];
const pressed = (): Driven => new Driven(jobOf(STEPS)).started().send({ kind: "press" }, 120);

const ENDS: readonly { readonly because: string; readonly run: () => Driven }[] = [
  { because: "stopped while it still moved", run: () => pressed().send({ kind: "stop" }, 150) },
  { because: "a signal while it still moved", run: () => pressed().send({ kind: "signal", name: "SIGTERM" }, 150) },
  { because: "stopped at the question", run: () => pressed().playOut().send({ kind: "stop" }) },
  { because: "the program was killed", run: pressed },
  { because: "played again, and stopped", run: () => pressed().send({ kind: "again" }, 150).send({ kind: "stop" }, 9) },
  {
    because: "the answer was taken back, and stopped",
    run: () =>
      pressed()
        .playOut()
        .send({ kind: "judge", result: "pass" })
        .playOut()
        .send({ kind: "undo" })
        .send({ kind: "stop" }),
  },
];

const ranked = ({ session }: Driven) => {
  const { profile } = session.job.timeline;
  return rank(fittedOf(profile), observationsOf(session.view, profile));
};

describe.each(ENDS)("$because", ({ run }) => {
  test("it counts as unsure: something was wrong with the pan, and it is not said what", () => {
    const { faults } = ranked(run());
    const nothing = faults.find(({ kind }) => kind === "nothing-broken");
    expect(nothing?.because).toEqual([]);
    expect(nothing?.against).toEqual(["pan drive: wrong, nobody said how"]);
    expect(nothing?.probability).toBeLessThan(rank(fittedOf(run().session.job.timeline.profile), []).nothingBroken);
  });

  test("the sheet and the page say so, and never that nothing was reported", () => {
    const sheet = sheetOf(run());
    for (const told of [tellJobSheet(sheet).replaceAll(/\s+/g, " "), jobSheetPage(sheet)]) {
      expect(told).toContain("1 press; something was seen, and the run ended before it was asked what");
      expect(told).not.toContain("nothing was reported");
      expect(told).not.toContain("nothing wrong");
    }
    expect(sheet.steps[0]).toMatchObject({ result: "unsure", presses: 1, unasked: 1, watched: "attended" });
  });

  test("it stands against the release until the same movement has passed", () => {
    const { session } = run();
    const { reasons } = releaseStatusOf(historyNow(session), fittedOf(session.job.timeline.profile));
    expect(reasons.map(({ words }) => words)).toContain(
      "something seen and not described, not passed since: pan: full sweep",
    );
  });
});

test("gone on with and passed, nothing stands against it", () => {
  const first = pressed().send({ kind: "stop" }, 150);
  const again = new Driven(jobOf(STEPS), first.bodies).started().playOut().send({ kind: "judge", result: "pass" });
  const { reasons } = releaseStatusOf(historyNow(again.session), fittedOf(again.session.job.timeline.profile));
  expect(reasons.map(({ words }) => words).filter((words) => words.includes("not passed since"))).toEqual([]);
  expect(sheetOf(again).steps[0]).toMatchObject({ result: "pass", unasked: 0 });
});

test("while it may still be asked about, a press is no finding yet", () => {
  const run = pressed().playOut();
  expect(run.session.stage.kind).toBe("asking");
  const { job, view, person } = run.session;
  const { learned, constants, timeline, bench } = job;
  const found = diagnose({
    profile: timeline.profile,
    bench,
    view,
    simulated: true,
    person,
    learned,
    constants,
    latest: "a test",
    open: [],
  });
  expect(found.ranking.faults.find(({ kind }) => kind === "nothing-broken")?.against).toEqual([]);
});

test.each([
  { steps: ["{ sweep: Pan, passes: 2 }"], because: "judged good after all" },
  { steps: ["{ stopwatch: Pan }"], because: "timed by presses" },
])("a press is told also where it speaks for nothing: $because", ({ steps }) => {
  const run = new Driven(jobOf(steps)).started().send({ kind: "press" }, 120).send({ kind: "press" }, 130);
  run.playOut().send({ kind: "judge", result: "pass" });
  const nothing = ranked(run).faults.find(({ kind }) => kind === "nothing-broken");
  expect(nothing?.because).toEqual(["2 presses, and no step counts as failed"]);
});

test("what was pressed while the computer was too slow says nothing of the fixture, but is not denied", () => {
  const late = { worstLate: 0.5, dropped: 9 };
  const run = new Driven(jobOf(STEPS)).started().send({ kind: "press" }, 120).playOut(late).send({ kind: "stop" }, 9);
  const nothing = ranked(run).faults.find(({ kind }) => kind === "nothing-broken");
  expect(nothing?.because).toEqual(["one press, and no step counts as failed"]);
});

test("without any press nothing was reported", () => {
  const run = new Driven(jobOf(STEPS)).started().playOut().send({ kind: "judge", result: "pass" });
  expect(ranked(run).faults.find(({ kind }) => kind === "nothing-broken")?.because).toEqual(["nothing was reported"]);
});
