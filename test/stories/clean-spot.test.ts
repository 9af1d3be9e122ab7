import { expect, test } from "vitest";
import { jobFor } from "../../src/app/fixture/job.ts";
import { fittedOf } from "../../src/data/profile/profile.ts";
import type { People } from "../../src/data/shop/shop.ts";
import { mechanismsOf } from "../../src/diagnosis/model/places.ts";
import {
  alwaysDue,
  INSPECTION_IDS,
  isSafetyInspection,
  SAFETY_INSPECTIONS,
} from "../../src/domain/trade/inspections.ts";
import { secondsOf } from "../../src/domain/units.ts";
import { planOf } from "../../src/plan/timeline.ts";
import { allOf, handMinutes } from "../../src/reports/hand-work.ts";
import { tellJobSheet } from "../../src/reports/job-sheet-text.ts";
import type { History } from "../../src/run/release/history.ts";
import { dirtIn } from "../../src/run/session/by-hand/cleaning.ts";
import type { HandTask } from "../../src/run/session/by-hand/task.ts";
import { isSilenceCounted } from "../../src/run/session/flow.ts";
import type { Job } from "../../src/run/session/job.ts";
import { questionOf, type Stage } from "../../src/run/session/session.ts";
import { Driven } from "../kit/driven.ts";
import { must, shippedBench, shippedProfile, shippedSequence, shippedText } from "../kit/shipped.ts";
import { sheetOf } from "../reports/sheets.ts";
import { AGREE, Typist } from "../ui/sights.ts";

/** The whole check-in of the shipped spot with nothing wrong: every key by the screen's own key handler, movements in no real time. */
const checkIn = (mode: "attended" | "hands-off", people: People): Job => ({
  ...must(
    jobFor(
      {
        profile: { value: shippedProfile("spot-16bit"), text: shippedText("profiles/spot-16bit.yaml") },
        sequence: { value: shippedSequence("check-in"), text: shippedText("sequences/check-in.yaml") },
        bench: { value: shippedBench(), text: shippedText("benches/bench.yaml") },
      },
      {
        serial: "A-17",
        universe: 1,
        address: 1,
        output: "test",
        simulated: true,
        set: [],
        mode,
        replays: undefined,
        hire: undefined,
      },
    ),
  ),
  people,
});

/** ENTER keeps the figure and, on the page again, asks who took it. */
const initials = (text: string): readonly string[] => ["enter", ...text, "enter"];

/** What a technician types at a page by hand: the hours and the earth with their values, the initials once. */
const keysFor = (task: HandTask): readonly string[] => {
  if (task.kind === "dirt") return ["1"];
  if (task.kind === "reading" && task.reading === "source-hours") return [..."640", "g"];
  if (task.kind === "reading" && task.reading === "earth-continuity")
    return [...".08", ...(task.initials === "" ? ["enter", ...initials("EE")] : []), "g"];
  return task.kind === "hold-point" ? [AGREE] : ["g"];
};

/** Nobody counts as watching who does not touch a key for a minute. */
const MOST_SILENCE_S = 58;

/** One technician at the keys; what is pressed is counted. */
class Technician {
  readonly run: Driven;
  keys = 0;
  /** Every page that was answered, with its keys. */
  readonly pages: string[] = [];
  signs = 0;
  questions = 0;
  private lastKey = 0;
  private readonly typist: Typist;
  private readonly mode: "attended" | "hands-off";

  constructor(mode: "attended" | "hands-off", people: People, past: History) {
    this.mode = mode;
    this.run = new Driven({ ...checkIn(mode, people), past }).begin();
    this.typist = new Typist(this.run);
  }

  /** One movement is watched, or one question answered. */
  onwards(): void {
    const { stage } = this.run.session;
    if (stage.kind === "moving") this.watch(stage.step.routine, secondsOf(stage.step.frames));
    else if (stage.kind === "slow-start") this.run.playOut();
    else this.answer(stage.kind === "by-hand" ? keysFor(stage.task) : [AGREE]);
  }

  private watch(routine: string, length: number): void {
    const watched = this.mode === "hands-off" && isSilenceCounted(this.run.session);
    const begun = this.run.at;
    while (watched && begun + length - this.lastKey > MOST_SILENCE_S) {
      this.signs += 1;
      this.run.at = Math.max(begun, this.lastKey + MOST_SILENCE_S);
      this.press("t");
    }
    this.run.at = begun;
    // While it soaks: the paper work.
    if (routine === "soak" && dirtIn(this.run.session) === undefined) this.press("1");
    this.run.playOut();
  }

  private answer(keys: readonly string[]): void {
    this.questions += 1;
    const before = questionOf(this.run.session);
    this.press(...keys);
    expect(questionOf(this.run.session), `still at ${before}`).not.toBe(before);
  }

  private press(...keys: readonly string[]): void {
    this.pages.push(`${keys.join(" ").padEnd(9)} ${pageName(this.run.session.stage)}`);
    this.keys += keys.length;
    this.lastKey = this.run.at;
    this.typist.press(...keys);
  }
}

/** The page that lies open, in a word or two. */
const pageName = (stage: Stage): string => {
  if (stage.kind === "holding") return stage.point;
  if (stage.kind === "asking") return "what did you see?";
  if (stage.kind === "confirming") return `did you watch these? ${stage.indexes.length}`;
  if (stage.kind === "moving") return `${stage.step.id} moves`;
  return stage.kind === "by-hand" ? handPage(stage.task) : stage.kind;
};
const handPage = (task: HandTask): string => {
  if (task.kind === "looks") return `inspections, ${task.cover}: ${task.inspections.length}`;
  if (task.kind === "look") return `inspection: ${task.inspection}`;
  return [task.kind, task.kind === "hold-point" && task.point, task.kind === "reading" && task.reading]
    .filter(Boolean)
    .join(": ");
};

/** What the journal has of a fixture that was here before. */
const pastOf = (run: Driven): History => run.bodies.map((body) => ({ run: "earlier", person: "KM", body }));

const walk = (mode: "attended" | "hands-off", people: People = [], past: History = []): Technician => {
  const technician = new Technician(mode, people, past);
  for (let n = 0; n < 1000 && technician.run.session.stage.kind !== "finished"; n++) technician.onwards();
  return technician;
};

const SLOW = 120_000;

test(
  "a clean spot that the shop knows is checked in, inspected, cleaned, measured and signed with these keys, and nothing stands against it",
  () => {
    const before = walk("hands-off");
    const { run, keys, pages, signs, questions } = walk("hands-off", [], pastOf(before.run));
    expect(run.session.stage).toEqual({ kind: "finished", how: "finished" });
    expect(run.events("signed-off")).toHaveLength(1);
    expect(Object.values(run.results()).filter((result) => result !== "pass" && result !== "not-fitted")).toEqual([]);
    expect(pages.join("\n")).toMatchInlineSnapshot(`
      "agree     hold-point: unplugged
      g         inspection: plug-and-cord
      g         inspection: water
      g         inspection: yoke-entry
      g         inspection: brackets
      g         inspections, outside: 3
      agree     mains-on
      agree     what did you see?
      agree     hold-point: still
      g         inspections, panel: 3
      6 4 0 g   reading: source-hours
      agree     before-moving
      t         step-through-gobo2 moves
      agree     did you watch these? 15
      agree     what did you see?
      agree     did you watch these? 10
      agree     hold-point: isolated
      agree     hold-point: stored-charge
      agree     hold-point: cool
      agree     hold-point: cover-removed
      g         inspection: capacitors
      g         inspection: power-links
      g         inspections, base: 4
      g         inspection: yoke-wires
      g         inspection: yoke-boards
      g         inspection: yoke-capacitors
      g         inspections, yoke: 7
      g         inspection: head-capacitors
      g         inspections, head: 8
      g         inspections, head: 7
      g         cleans
      . 0 8 g   reading: earth-continuity
      agree     hold-point: nothing-loose
      agree     hold-point: covers-on
      g         reading: electrical-safety
      agree     mains-on
      agree     what did you see?
      g         sign"
    `);
    expect({ keys, questions, signs }).toMatchInlineSnapshot(`
      {
        "keys": 44,
        "questions": 37,
        "signs": 1,
      }
    `);
    expect(keys).toBeLessThanOrEqual(45);
    expect({ keys: before.keys, questions: before.questions }).toMatchInlineSnapshot(`
      {
        "keys": 50,
        "questions": 37,
      }
    `);
  },
  SLOW,
);

test(
  "how dirty it was and who measured are remembered: shown, agreed to with the same key as ever, kept for this run as well",
  () => {
    const { run } = walk("hands-off", [], pastOf(walk("hands-off").run));
    expect(run.events("dirt-judged").map(({ dirt }) => dirt)).toEqual(["light"]);
    expect(run.events("reading-taken").map(({ reading, initials: by }) => [reading, by])).toEqual([
      ["source-hours", "KM"],
      ["earth-continuity", "EE"],
      ["electrical-safety", "EE"],
    ]);
  },
  SLOW,
);

test(
  "where the shop names whoever is at the bench as competent to measure, the initials stand there already",
  () => {
    const named: People = [{ initials: "KM", may: ["measure"] }];
    const { run, keys } = walk("hands-off", named);
    expect(run.events("reading-taken").map(({ reading, initials: by }) => [reading, by])).toEqual([
      ["source-hours", "KM"],
      ["earth-continuity", "KM"],
      ["electrical-safety", "KM"],
    ]);
    expect(walk("hands-off").keys - keys).toBe(["enter", ...initials("EE")].length);
  },
  SLOW,
);

test(
  "its signed sheet does not contradict itself: released, the earth measured and signed, and no danger named beside that",
  () => {
    const sheet = sheetOf(walk("hands-off").run);
    expect(sheet.warnings).toEqual([]);
    const told = tellJobSheet(sheet);
    expect(told).toContain("Released at level full by KM");
    expect(told).toContain("earth continuity from base to yoke to head: 0.08 ohm, in limit; signed EE");
    expect(told).not.toMatch(/danger/i);
  },
  SLOW,
);

/** Each is asked by itself, whatever is asked together with others. */
test(
  "every inspection that may be a danger has a question, and a key, of its own",
  () => {
    const { run } = walk("hands-off");
    const together = run.events("inspected").filter((one) => one.together);
    const alone = run.events("inspected").filter((one) => !one.together);
    expect(together.map(({ inspection }) => inspection).filter(isSafetyInspection)).toEqual([]);
    expect(alone.map(({ inspection }) => inspection)).toEqual(
      SAFETY_INSPECTIONS.filter((id) => alwaysDue(FITTED).includes(id) && id !== "earth-continuity").toSorted(
        (a, b) => INSPECTION_IDS.indexOf(a) - INSPECTION_IDS.indexOf(b),
      ),
    );
  },
  SLOW,
);

/** Driving as it was driven here, hands as `sequence show` says. Inside it was dusty, and nothing was wrong. */
test(
  "it takes less than an hour of somebody's own time, and the plan says so beforehand",
  () => {
    const { run } = walk("hands-off");
    const plan = planOf(run.session.job.timeline);
    const soaked = plan.total - plan.watched;
    expect(run.at, "the plan's own driving time, and the slow movements").toBeGreaterThanOrEqual(plan.total);
    expect(run.at).toBeLessThan(plan.total + 20);
    const own = (run.at - soaked) / 60 + allOf(handMinutes(run.session.job.sequence, FITTED, "light"));
    expect(own).toBeLessThan(60);
    expect(Math.round(own)).toMatchInlineSnapshot(`51`);
  },
  SLOW,
);

const FITTED = mechanismsOf(fittedOf(shippedProfile("spot-16bit")));

test(
  "asked after every step the same check-in takes a key for each of them",
  () => {
    const each = walk("attended");
    const by = walk("hands-off");
    expect(each.run.events("signed-off")).toHaveLength(1);
    expect({ keys: each.keys, questions: each.questions }).toMatchInlineSnapshot(`
      {
        "keys": 73,
        "questions": 61,
      }
    `);
    expect(by.keys).toBeLessThan(each.keys);
    expect(by.questions).toBeLessThan(each.questions * 0.65);
  },
  SLOW,
);
