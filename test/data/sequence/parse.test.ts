import { expect, test } from "vitest";
import { parseSequence } from "../../../src/data/sequence/parse.ts";
import { tellProblems } from "../../../src/domain/problem/problem.ts";
import { sequenceOf } from "../../kit/shipped.ts";

const told = (...steps: readonly string[]): string => {
  const result = parseSequence(
    "own.yaml",
    `sequence: own\ntitle: Own\nsteps:\n${steps.map((step) => `  - ${step}\n`).join("")}`,
  );
  return result.ok ? "" : tellProblems(result.problems);
};

test.each([
  {
    step: "swep: Pan",
    says: 'own.yaml:4:5: "swep" is not a known routine (did you mean "sweep"?)',
    because: "routines are a closed list",
  },
  { step: "sweep: Pna", says: 'did you mean "Pan"', because: "functions are a closed list" },
  { step: "{ sweep: Pan, speed: fast }", says: "known: slow, normal, full", because: "speeds are words" },
  { step: "{ sweep: Pan, dwell_s: 2 }", says: '"dwell_s" does not belong here', because: "a sweep does not dwell" },
  { step: "{ snap: Pan, times: 0 }", says: "it must be at least 1", because: "nothing is done no times" },
  { step: "inspect: propsed", says: "proposed", because: "looks by hand are a closed list" },
  { step: "reading: volts", says: "earth-continuity", because: "readings are a closed list" },
  {
    step: "{ clean: due, speed: slow }",
    says: '"speed" does not belong here',
    because: "nothing moves while one cleans",
  },
  { step: "just words", says: "a step needs a routine and a function", because: "a step is a group of keys" },
])("$because", ({ step, says }) => {
  expect(told(step)).toContain(says);
});

test("mistakes in several steps are told together", () => {
  expect(told("swep: Pan", "sweep: Pna").match(/own\.yaml/g)).toHaveLength(2);
});

test("two steps of one name are told apart by a number, two written ids are refused", () => {
  expect(sequenceOf("sweep: Pan", "sweep: Pan").steps.map(({ id }) => id)).toEqual(["sweep-pan", "sweep-pan-2"]);
  expect(told("{ sweep: Pan, id: a }", "{ sweep: Tilt, id: a }")).toContain('a step called "a" came before');
});

test("every step remembers its line in the file", () => {
  expect(sequenceOf("sweep: Pan", "sweep: Tilt").steps.map(({ line }) => line)).toEqual([4, 5]);
});

test("what is done by hand stands between the movements", () => {
  const { steps, byHand } = sequenceOf(
    "inspect: outside",
    "power-up: fixture",
    "hold-point: opening",
    "{ clean: [flags, wheels], id: wipe }",
  );
  expect(steps.map(({ id }) => id)).toEqual(["power-up-fixture"]);
  expect(byHand.map(({ id, before }) => [id, before])).toEqual([
    ["inspect-outside", 0],
    ["hold-point-opening", 1],
    ["wipe", 1],
  ]);
  expect(byHand[1]?.work).toEqual({
    kind: "hold-point",
    points: ["isolated", "stored-charge", "cool", "cover-removed"],
  });
});

test("after work with the mains off the first movement is a power-up", () => {
  const wrong = "own.yaml:5:5: the mains was off for the work before this step";
  expect(told("inspect: outside", "sweep: Pan")).toContain(wrong);
  expect(told("hold-point: opening", "sweep: Pan")).toContain(wrong);
  expect(told("inspect: menu-settings", "sweep: Pan")).toBe("");
  expect(told("reading: source-hours", "sweep: Pan")).toBe("");
  expect(told("inspect: outside", "power-up: fixture", "sweep: Pan")).toBe("");
});
