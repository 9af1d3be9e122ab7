import { fittedOf } from "../../src/data/profile/profile.ts";
import { whatNext } from "../../src/diagnosis/model/next.ts";
import type { Observation } from "../../src/diagnosis/model/observation.ts";
import type { Fitted } from "../../src/diagnosis/model/places.ts";
import { rank } from "../../src/diagnosis/model/rank.ts";
import { type Around, type JobSheet, jobSheetOf } from "../../src/reports/job-sheet.ts";
import { observationsOf } from "../../src/run/events/observations.ts";
import type { RunView } from "../../src/run/events/view.ts";
import { releaseStatusOf } from "../../src/run/release/release-status.ts";
import { historyNow } from "../../src/run/session/by-hand/holds.ts";
import { diagnosed } from "../kit/diagnosed.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { HOSTILE_TEXTS } from "../kit/hostile.ts";

const KEPT = { run: "20261125-1850-00c0de", begun: "2026-11-25T18:50:07.000Z", people: ["JK"] };

/** The job sheet of a session as it stands. */
export const sheetOf = (
  { session }: Driven,
  kept = KEPT,
  hidden: Around["hidden"] = (words) => ({ words, right: [] }),
): JobSheet => {
  const { profile } = session.job.timeline;
  const fitted = fittedOf(profile);
  return jobSheetOf(kept, session.view, profile, {
    ...foundBy(fitted, observationsOf(session.view, profile)),
    standing: releaseStatusOf(historyNow(session), fitted),
    hidden,
  });
};

/** What may be wrong and what to do next, worked out once for the same observations: names and notes change nothing of it. */
export const foundBy = (fitted: readonly Fitted[], observations: readonly Observation[]) => {
  const key = JSON.stringify([fitted, observations]);
  const result = found.get(key) ?? { ranking: rank(fitted, observations), advice: whatNext(fitted, observations) };
  found.set(key, result);
  return result;
};
const found = new Map<string, Pick<Around, "ranking" | "advice">>();

/** A short check in which pan failed with presses, and the iris was not round. */
export const usualSheet = (): JobSheet => sheetOf(usualRun("A-17", "clicks at the left end"));

const usualRun = (serial: string, note: string): Driven => {
  const steps = ["{ sweep: Pan, deg_per_s: 60, passes: 6 }", "{ sweep: Iris, passes: 2 }", "{ snap: Tilt, times: 2 }"];
  const run = new Driven(jobOf(steps, { serial }));
  run.diagnose = (findings) => diagnosed({ ...findings, view: withoutWords(findings.view) });
  run.started();
  for (const frame of [420, 770, 1130]) run.send({ kind: "press" }, frame);
  run.playOut().send({ kind: "symptom", symptom: { symptom: "jerks", function: "Pan" } });
  run.send({ kind: "note", text: note }).send({ kind: "confirm" });
  // On from where it was pressed.
  run.send({ kind: "confirm" });
  run
    .playOut()
    .send({ kind: "symptom", symptom: { symptom: "not-round", function: "Iris" } })
    .send({ kind: "confirm" });
  return run.playOut().send({ kind: "judge", result: "pass" });
};

/** A diagnosis reads no name and no note: runs that differ only in these have the same one. */
const withoutWords = (view: RunView): RunView => ({
  ...view,
  opened: view.opened && { ...view.opened, fixture: { ...view.opened.fixture, serial: "" } },
  steps: view.steps.map((step) => ({ ...step, judged: step.judged && { ...step.judged, note: "" } })),
});

/** Everything a person can write is hostile. */
export const hostileSheet = (texts: readonly string[] = HOSTILE_TEXTS): JobSheet => {
  const [serial = "", ...notes] = texts;
  return sheetOf(usualRun(serial, notes.join(" ~ ")), { ...KEPT, people: [...notes] });
};

/** Of a replay: what was repaired, what is not settled, what is still there, and what was good all the time. */
export const comparedSheet = (): JobSheet => ({
  ...usualSheet(),
  compared: [
    { words: "pan: full sweep", before: "fail", after: "pass", became: "repaired", passes: "" },
    {
      words: "iris: full sweep",
      before: "fail",
      after: "pass",
      became: "not settled",
      passes: "seen in 1 of 4 passes; 3 clean since, 11 needed before it counts as gone",
    },
    { words: "zoom: jump and back", before: "unsure", after: "fail", became: "still there", passes: "" },
    { words: "frost: in and out", before: "fail", after: "not-asked", became: "not tested", passes: "" },
    { words: "tilt: full sweep", before: "pass", after: "pass", became: "good as before", passes: "" },
  ],
});
