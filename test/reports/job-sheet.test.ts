import { describe, expect, test } from "vitest";
import { fittedOf } from "../../src/data/profile/profile.ts";
import type { FaultId } from "../../src/diagnosis/model/knowledge/faults.ts";
import type { HoldPointId } from "../../src/domain/trade/hold-points.ts";
import { LIGHT_SOURCE_IDS, sourceCaution } from "../../src/domain/trade/mechanisms.ts";
import { jobSheetOf } from "../../src/reports/job-sheet.ts";
import { tellJobSheet } from "../../src/reports/job-sheet-text.ts";
import { jobSheetPage } from "../../src/reports/page/job-sheet-page.ts";
import { rackPage } from "../../src/reports/page/rack-page.ts";
import { tellRackSheet } from "../../src/reports/rack-sheet.ts";
import { observationsOf } from "../../src/run/events/observations.ts";
import { releaseStatusOf } from "../../src/run/release/release-status.ts";
import { historyNow } from "../../src/run/session/by-hand/holds.ts";
import { write } from "../../src/run/session/change.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { usualRack } from "./racks.ts";
import { foundBy, sheetOf as sheetAsItStands, usualSheet } from "./sheets.ts";

const hiddenAs =
  (words: string, right: readonly FaultId[] = []) =>
  () => ({ words, right });
const KEPT = { run: "r1", begun: "2026-11-25T18:50:07.000Z", people: ["JK"] };
const sheetOf = (run: Driven) => sheetAsItStands(run, KEPT, hiddenAs("nothing"));

const failed = new Driven(
  jobOf(["{ sweep: Iris, passes: 2 }", "sweep: Blade1A", "sweep: Zoom"], { serial: "A-17 \u001b[2J" }),
).started();
failed.send({ kind: "press" }, 60).playOut();
failed.send({ kind: "symptom", symptom: { symptom: "not-round", function: "Iris" } });
failed.send({ kind: "note", text: "left\nleaf" }).send({ kind: "confirm" });
failed
  .playOut({ worstLate: 0.031, dropped: 1 })
  .playOut({ worstLate: 0.031, dropped: 1 })
  .playOut({ worstLate: 0.031, dropped: 1 })
  .send({ kind: "confirm" });

test("the top of the page says what, how and what was seen; what passed is counted, what does not count is told", () => {
  const page = tellJobSheet(sheetOf(failed));
  expect(page.split("\nWhere it happened")[0]).toBe(
    [
      "Job sheet: A-17 \\u001b[2J",
      "Needs work: failed, not passed since: iris: full sweep, and 60 more",
      "spot-16bit, universe 1, address 1; sequence test",
      "run r1, 2026-11-25 18:50 UTC, watched by JK",
      "SIMULATED: a simulated fixture, not a real one.",
      "1 fail, 1 not fitted, 1 to be repeated; finished.",
      "3 attempts do not count: computer too slow, late by up to 31 ms; 3 frames not",
      "sent.",
      "",
      "What was seen",
      "  fail            iris: full sweep - iris: opening is not round; 1 press;",
      "                  left\\nleaf",
      "  to be repeated  zoom: full sweep - computer too slow by 31 ms: repeat this",
      "                  step; 1 frame was not sent: repeat this step",
      "",
    ].join("\n"),
  );
});

test("attempts that do not count are told of the whole run, also where the step was played again and then counted", () => {
  const run = new Driven(jobOf(["sweep: Pan"])).started().send({ kind: "line-lost", words: "out" }, 77);
  run.send({ kind: "line-open" }).send({ kind: "confirm" }).playOut().playOut();
  run.playOut().send({ kind: "judge", result: "pass" });
  const sheet = sheetOf(run);
  expect(sheet.rig).toEqual({ worst_late_s: 0, spoilt: 1, dropped: 0, lost: 1 });
  expect(sheet.steps.map(({ result, rig }) => [result, rig])).toEqual([["pass", ""]]);
  expect(tellJobSheet(sheet)).toContain("\n1 attempt does not count: DMX line lost once.\n");
});

test("a computer that was quick enough is not mentioned", () => {
  const run = new Driven(jobOf(["sweep: Pan"])).started().playOut({ worstLate: 0.003, dropped: 0 });
  expect(tellJobSheet(sheetOf(run.send({ kind: "judge", result: "pass" })))).not.toContain("not count");
});

const warned = (run: Driven): string => sheetOf(run).warnings.join("; ");
const DANGEROUS = ["wires into the yoke", "earth continuity from base to yoke to head", "tops of all capacitors"];

test("dangers are listed where the run had inspections, not on every sheet of a run that only moved", () => {
  for (const look of DANGEROUS) expect(warned(failed)).not.toContain(look);
  const inspected = new Driven(jobOf(["inspect: [front-lens]", "power-up: fixture"])).begin();
  inspected.send({ kind: "confirm" }).send({ kind: "judge", result: "pass" });
  for (const look of DANGEROUS) expect(warned(inspected)).toContain(look);
});

test("a danger that what was seen speaks for is listed also where nothing was inspected", () => {
  const run = new Driven(jobOf(["{ shake: [Pan, Tilt] }", "{ sweep: Pan, passes: 2 }"])).started().playOut();
  run.send({ kind: "symptom", symptom: { symptom: "reset-itself" } }).send({ kind: "confirm" });
  expect(warned(run)).toContain("tops of all capacitors");
});

test("what was repaired in the run explains what was seen before it, and is ranked no more", () => {
  const ranked = (run: Driven) => sheetOf(run).faults.map(({ id }) => id);
  const run = new Driven(jobOf(["{ sweep: Iris, passes: 2 }"])).started();
  run.send({ kind: "press" }, 60).playOut();
  run.send({ kind: "symptom", symptom: { symptom: "grinds", function: "Iris" } }).send({ kind: "confirm" });
  expect(ranked(run)[0]).toBe("iris-leaf-bent");
  const repair = { part: "iris", minutes: 12, initials: "KM", note: "" };
  const [repaired] = write(run.session, { kind: "repaired", what: "fault", fault: "iris-leaf-bent", ...repair });
  run.session = repaired;
  expect(ranked(run)).not.toContain("iris-leaf-bent");
});

test("no statistics word and no raw attribute reaches the page", () => {
  const page = tellJobSheet(sheetOf(failed));
  expect(page).not.toMatch(/posterior|prior\b|leak\b|noisy|likelihood|probab/i);
  expect(page).not.toMatch(/ColorSub|Gobo1Pos|Focus1|Shutter1/);
});

test("every line fits 80 columns", () => {
  for (const line of tellJobSheet(sheetOf(failed)).split("\n")) expect(line.length).toBeLessThanOrEqual(80);
});

test("a fixture that is released has no danger that is only due; one that is good by another run is no danger", () => {
  const { profile } = failed.session.job.timeline;
  const fitted = fittedOf(profile);
  const observations = observationsOf(failed.session.view, profile);
  const around = { ...foundBy(fitted, observations), hidden: hiddenAs("") };
  const released = { state: "ready", reasons: [], signed: "KM", level: "full" } as const;
  const signed = jobSheetOf(KEPT, failed.session.view, profile, { ...around, standing: released });
  expect(signed.warnings).toEqual([]);
  expect(tellJobSheet(signed)).toContain("Released at level full by KM");
  const open = releaseStatusOf(historyNow(failed.session), fitted);
  const clear = new Set(["earth-continuity"] as const);
  const looked = { kind: "inspected", inspection: "front-lens", answer: "good", note: "" } as const;
  const view = { ...failed.session.view, inspected: [looked] };
  const known = jobSheetOf(KEPT, view, profile, { ...around, standing: open, clear });
  expect(known.warnings.join()).not.toContain("earth");
  expect(known.warnings.length).toBeGreaterThan(0);
});

describe("a hidden fault of a simulated fixture", () => {
  const { session } = failed;
  const { profile, steps } = session.job.timeline;
  const fitted = fittedOf(profile);
  const observations = observationsOf(session.view, profile);
  const found = foundBy(fitted, observations);
  const named = ({ ranking }: typeof found) =>
    ranking.faults.flatMap((fault) => ("mechanism" in fault ? [fault.id as FaultId] : []));
  const [first] = named(found);
  const { opened } = session.view;
  const sheetWith = (right: readonly FaultId[], repaired: readonly FaultId[] = [], judged = found) => {
    const mended = repaired.map(
      (fault) => ({ kind: "repaired", what: "fault", fault, part: "", minutes: 0, initials: "", note: "" }) as const,
    );
    const view = {
      ...session.view,
      repaired: mended,
      ...(opened && { opened: { ...opened, simulated: true, set: ["iris-leaf-kinked"] } }),
    };
    const around = {
      ...judged,
      standing: releaseStatusOf(historyNow(session), fitted),
    };
    const kept = { run: "r1", begun: "2026-11-25T18:50:07.000Z", people: [] };
    return tellJobSheet(
      jobSheetOf(kept, view, profile, { ...around, hidden: hiddenAs("one leaf of the iris kinked", right) }),
    );
  };

  test("is told in plain words, never by the name that the program has for it", () => {
    expect(sheetWith([first!])).not.toContain("iris-leaf-kinked");
  });
  test("is found when a right answer stands among the faults that are printed, and its place is said", () => {
    expect(steps.length).toBeGreaterThan(0);
    expect(sheetWith([first!])).toContain(
      "Hidden fault of the simulated fixture: one leaf of the iris kinked. Found:\nfirst of the faults above.",
    );
    // An iris that jerks may be bent, dry or slack; one that is not round is bent.
    const jerking = observations.map((one) => ({
      ...one,
      symptoms: one.symptoms.map((report) => ({ ...report, symptom: "jerks" as const })),
    }));
    const judged = foundBy(fitted, jerking);
    expect(sheetWith([named(judged)[1]!], [], judged)).toContain("Found:\nsecond of the faults above.");
  });
  test("is not found when none does", () => {
    expect(sheetWith(["fan-dead"])).toContain("one leaf of the iris kinked. Not found:\nnot among the faults above.");
  });
  test("is found when it was repaired in this run", () => {
    expect(sheetWith([first!], [first!])).toContain("one leaf of the iris kinked. Found and\nrepaired.");
  });
});

test("a rack's sheet and its page tell the hidden faults in plain words, never by the names that the program has for them", () => {
  const sheet = usualRack();
  expect(tellRackSheet(sheet)).toContain("hidden fault: dust on the pan encoder disc");
  expect(rackPage(sheet)).toContain("(hidden fault: dust on the pan encoder disc)");
  expect(tellRackSheet(sheet) + rackPage(sheet)).not.toContain("pan-disc-dusty");
});

test.each(LIGHT_SOURCE_IDS)("the sheet of a fixture with a %s source says what that may do to people", (kind) => {
  const sheet = { ...usualSheet(), caution: sourceCaution(kind) };
  expect(tellJobSheet(sheet).replaceAll(/\s+/g, " ")).toContain(
    `stored charge and heat. ${sourceCaution(kind)}`.trim(),
  );
  expect(jobSheetPage(sheet)).toContain(sourceCaution(kind));
});

test("the source is that of the profile: the shipped spot has a lamp that can burst", () => {
  expect(usualSheet().caution).toBe(sourceCaution("discharge"));
});

test("where nothing was watched nothing is ranked, and that is said", () => {
  const stopped = new Driven(jobOf(["sweep: Pan"])).started().send({ kind: "stop" }, 40);
  expect(sheetOf(stopped)).toMatchObject({ faults: [], next: ["not watched: nothing can be said of it"] });
  const page = tellJobSheet(sheetOf(stopped));
  expect(page).not.toContain("nothing broken");
  expect(page).not.toContain("What it may be");
  expect(jobSheetPage(sheetOf(stopped))).not.toContain("What it may be");
  const watched = new Driven(jobOf(["sweep: Pan"])).started().playOut().send({ kind: "judge", result: "pass" });
  expect(tellJobSheet(sheetOf(watched))).toMatch(/What it may be\n {2}\S+( \S+)? +nothing broken/);
});

test.each<{ points: readonly HoldPointId[]; open: boolean; because: string }>([
  { points: [], open: false, because: "nobody opened it" },
  { points: ["isolated", "stored-charge", "cool"], open: false, because: "no cover was off yet" },
  { points: ["isolated", "stored-charge", "cool", "cover-removed"], open: true, because: "a cover is off" },
  {
    points: ["isolated", "stored-charge", "cool", "cover-removed", "nothing-loose", "covers-on"],
    open: false,
    because: "it was closed again",
  },
])("a sheet says whether a fixture was left open: $because", ({ points, open }) => {
  const steps = ["sweep: Iris", ...points.map((point) => `hold-point: ${point}`)];
  const run = new Driven(jobOf(steps)).started().playOut().send({ kind: "judge", result: "pass" });
  for (const _ of points) run.send({ kind: "confirm" });
  expect(/\nStatus: isolated and open\n/.test(tellJobSheet(sheetOf(run)))).toBe(open);
});
