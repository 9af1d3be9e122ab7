import { readdirSync } from "node:fs";
import { expect, test } from "vitest";
import { readSequence } from "../../src/data/sequence/parse.ts";
import { tellDoubts } from "../../src/domain/problem/problem.ts";
import { lintSequence, SEQUENCE_RULES } from "../../src/plan/lint.ts";
import { must, shippedBench, shippedProfile, shippedText } from "../kit/shipped.ts";

const named = (folder: string) =>
  readdirSync(folder).flatMap((name) => (name.endsWith(".yaml") ? [name.replace(".yaml", "")] : []));
const profiles = named("profiles").map(shippedProfile);
const bench = shippedBench();

const doubtsIn = (...steps: readonly string[]) => {
  const text = `sequence: own\ntitle: Own\nsteps:\n${steps.map((step) => `  - ${step}\n`).join("")}`;
  return lintSequence(must(readSequence("own.yaml", text)), profiles, bench);
};

test.each(named("sequences"))("nothing is doubtful in sequences/%s.yaml, whatever the kind of fixture", (name) => {
  const read = must(readSequence(`${name}.yaml`, shippedText(`sequences/${name}.yaml`)));
  expect(tellDoubts(lintSequence(read, profiles, bench))).toBe("");
});

const SOUND = ["power-up: fixture", "{ sweep: Pan, passes: 2 }", "{ snap: Pan, deg: 15, times: 2, dwell_s: 0.8 }"];
const SLIPS = [
  { rule: "fits-nothing", step: "sweep: Gobo1", line: 7, says: '"full sweep" fits gobo wheel 1 of no fixture here' },
  { rule: "fits-nothing", step: "{ sweep: [Zoom, Gobo1] }", line: 7, says: "fits gobo wheel 1 of no fixture" },
  {
    rule: "flashes-in-view",
    step: "{ snap: Dimmer, times: 8, dwell_s: 0.05 }",
    line: 7,
    says: "5 flashes in a second",
  },
  { rule: "flashes-in-view", step: "{ shake: ColorAdd_R, seconds: 2 }", line: undefined, says: "" },
  {
    rule: "light-never-seen",
    step: "{ snap: Pan, deg: 90, times: 2 }",
    line: 7,
    says: "wants light, and moves out of the directions",
  },
  { rule: "dwell-too-short", step: "{ step-through: Gobo1, dwell_s: 0.1 }", line: 7, says: "stands for only 0.1 s" },
  { rule: "power-up-late", step: "power-up: fixture", line: 7, says: "a power-up in the middle of the run" },
  {
    rule: "said-twice",
    step: "{ dwell_s: 0.8, times: 2, deg: 15, snap: Pan }",
    line: 7,
    says: "the same step as the one before",
  },
  { rule: "said-twice", step: "{ snap: Pan, deg: 15, times: 3, dwell_s: 0.8 }", line: undefined, says: "" },
  {
    rule: "watched-too-long",
    step: "{ sweep: Zoom, seconds: 600, passes: 4 }",
    line: 3,
    says: "minutes to be watched",
  },
  { rule: "watched-too-long", step: "{ soak: Zoom, seconds: 2400 }", line: undefined, says: "" },
];

test.each(SLIPS)("$rule: $step", ({ rule, step, line, says }) => {
  const found = doubtsIn(...SOUND, step).filter((doubt) => doubt.rule === rule);
  expect(found.map(({ problem }) => problem.place?.line)).toEqual(line === undefined ? [] : [line]);
  expect(found[0]?.problem.message ?? "").toContain(says);
});

test("what is done by hand between the steps is counted in the file, and may have switched the mains off", () => {
  const steps = [
    "inspect: outside",
    ...SOUND,
    "hold-point: opening",
    "hold-point: closing",
    "power-up: fixture",
    "sweep: Gobo1",
  ];
  const doubts = doubtsIn(...steps);
  expect(doubts.map(({ rule, problem }) => [rule, problem.place?.line])).toEqual([["fits-nothing", 11]]);
});

test("every rule has a slip of its own above, says why, and says nothing of a sound sequence", () => {
  expect([...new Set(SLIPS.map(({ rule }) => rule))].sort()).toEqual(SEQUENCE_RULES.map(({ name }) => name).sort());
  for (const { why } of SEQUENCE_RULES) expect(why).toMatch(/^[A-Z][^.]*\.$/);
  expect(doubtsIn(...SOUND)).toEqual([]);
});

test("three flashes in a second are allowed, four are not (WCAG 2.1, 2.3.1)", () => {
  // Up and down again is one flash; the dimmer of the quickest LED takes 0.05 s for each way.
  const flashing = (dwell: number) =>
    doubtsIn(`{ snap: Dimmer, times: 8, dwell_s: ${dwell} }`).filter(({ rule }) => rule === "flashes-in-view");
  expect(flashing(0.125)).toEqual([]);
  expect(flashing(0.05)).toHaveLength(1);
});
