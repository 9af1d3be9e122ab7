import { expect, test } from "vitest";
import { parseProfile } from "../../../src/data/profile/parse.ts";
import { physicalOf, type Travel } from "../../../src/data/profile/profile.ts";
import { parseSequence } from "../../../src/data/sequence/parse.ts";
import { edited, remarked } from "../../../src/domain/problem/edit.ts";
import { compile } from "../../../src/plan/compile.ts";
import { changeInWords, editsFor, type ProfileChange } from "../../../src/run/verification/change.ts";
import { expected, type ProofAnswer, questionFor, reached } from "../../../src/run/verification/questions.ts";
import { firstPart, secondPart } from "../../../src/run/verification/steps.ts";
import { must, shippedBench, shippedProfile, shippedText } from "../../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
const stepsOf = (text: string | undefined) =>
  compile(spot, must(parseSequence("proof.yaml", text ?? "")), shippedBench()).steps;
const moves = stepsOf(firstPart(spot));
const ends = stepsOf(secondPart(spot));
const answerTo = (steps: typeof moves, id: string, line: string) => {
  const read = questionFor(spot, steps.find(({ functions }) => functions[0] === id)!).read(line);
  return read.ok ? read.value : read.problems[0]?.message;
};

test("every function is moved alone, but for the control slot, which could put the lamp out", () => {
  expect(moves.map(({ functions }) => functions.join())).toEqual(
    [...spot.functions.keys()].filter((id) => id !== "Control1"),
  );
  expect(moves.every(({ fitted }) => fitted)).toBe(true);
  for (const step of moves) expect(new Set(step.moves.map((move) => move.function)).size).toBeLessThanOrEqual(2);
});

test("the second part goes to every end, with the beam shut where an axis leaves the directions that are allowed", () => {
  expect(ends.every(({ fitted }) => fitted)).toBe(true);
  expect(
    ends.filter(({ functions }) => functions[0] === "Pan" || functions[0] === "Tilt").map(({ beam }) => beam),
  ).toEqual(["shut", "shut"]);
});

test.each([
  {
    id: "Pan",
    line: "",
    answer: { kind: "moved", moved: { asked: "Pan", moved: "Pan" } },
    because: "ENTER says as told",
  },
  { id: "Pan", line: "tilt", answer: { kind: "moved", moved: { asked: "Pan", moved: "Tilt" } }, because: "in words" },
  {
    id: "Pan",
    line: "ColorSub_C",
    answer: { kind: "moved", moved: { asked: "Pan", moved: "ColorSub_C" } },
    because: "or as in the file",
  },
  {
    id: "Pan",
    line: "nothing",
    answer: { kind: "moved", moved: { asked: "Pan", moved: "nothing" } },
    because: "or nothing",
  },
  { id: "Pan", line: "again", answer: { kind: "again" }, because: "it can be seen again" },
  { id: "Pan", line: "pna", answer: '"pna" is not a function', because: "a slip of the fingers is none" },
  {
    id: "Pan",
    line: "red emitter",
    answer: "by this profile the fixture has no red emitter",
    because: "only what is fitted can move",
  },
])("what moved: $because", ({ id, line, answer }) => {
  expect(answerTo(moves, id, line)).toEqual(answer);
});

test.each([
  {
    id: "Zoom",
    line: "y",
    answer: { kind: "reached", function: "Zoom", saw: "yes" },
    because: "the beginning of a word will do",
  },
  {
    id: "Zoom",
    line: "other",
    answer: { kind: "reached", function: "Zoom", saw: "other way" },
    because: "the other way round",
  },
  { id: "Zoom", line: "", answer: "please answer", because: "ENTER was a press a moment ago" },
  {
    id: "Prism1",
    line: "",
    answer: { kind: "reached", function: "Prism1", saw: "yes" },
    because: "nothing is pressed for a prism",
  },
  {
    id: "Color1",
    line: "blue",
    answer: { kind: "showed", function: "Color1", told: "red", saw: "blue" },
    because: "a wheel shows something",
  },
])("what was reached: $because", ({ id, line, answer }) => {
  expect(answerTo(ends, id, line)).toEqual(answer);
});

test("what was to be seen is said in what can be seen", () => {
  const said = (id: "Color1" | "Zoom" | "Dimmer" | "Iris" | "Prism1") => expected(id, spot.functions.get(id)!);
  expect(said("Zoom")).toBe("zoom: from 8 degrees to 42 degrees, and back.");
  expect(said("Dimmer")).toBe("dimmer: from 0 % (dark) to 100 % (full light), and back.");
  expect(said("Iris")).toBe("iris: from 100 % (wide open) to 5 %, and back.");
  expect(said("Color1")).toBe("colour wheel: open, red, blue, green, amber, violet, and back.");
  expect(said("Prism1")).toBe("prism: out of the beam, then in, and again.");
});

const TEXT = shippedText("profiles/spot-16bit.yaml");
const after = (change: ProfileChange) => must(parseProfile("spot-16bit.yaml", edited(TEXT, editsFor(spot, change))));

test("what was as told asks for nothing", () => {
  const answers: readonly ProofAnswer[] = [
    { kind: "reached", function: "Zoom", saw: "yes" },
    { kind: "showed", function: "Color1", told: "red", saw: "red" },
  ];
  expect(reached(spot, answers)).toEqual({ changes: [], open: [] });
});

test("the other way round: the ends of a travel change places", () => {
  const answers: readonly ProofAnswer[] = [{ kind: "reached", function: "Zoom", saw: "other way" }];
  const [change] = reached(spot, answers).changes;
  const zoom = after(change!).functions.get("Zoom") as Travel;
  expect([physicalOf(zoom, 0), physicalOf(zoom, 65535)]).toEqual([42, 8]);
});

test("the other way round: a prism is out where it was said to be in, a rotation turns against its words", () => {
  const prism = after({ kind: "other-way", function: "Prism1" }).functions.get("Prism1");
  expect(prism?.kind === "banded" && prism.bands.map(({ is }) => is)).toEqual(["in", "out"]);
  const turning = after({ kind: "other-way", function: "Gobo1Pos" }).functions.get("Gobo1Pos");
  expect(turning?.kind === "banded" && turning.bands.map(({ range }) => range)).toEqual([
    [0, 360],
    [-60, -1],
    undefined,
    [1, 60],
  ]);
});

test("a wheel that shows the next colour has its names one position beside their places", () => {
  const [change] = reached(spot, [{ kind: "showed", function: "Color1", told: "red", saw: "Blue" }]).changes;
  expect(change).toEqual({ kind: "names-shifted", function: "Color1", by: 1 });
  const wheel = after(change!).functions.get("Color1");
  expect(wheel?.kind === "wheel" && wheel.positions.map(({ is }) => is)).toEqual([
    "red",
    "blue",
    "green",
    "amber",
    "violet",
    "open",
  ]);
});

test.each<{ answer: ProofAnswer; says: string }>([
  { answer: { kind: "reached", function: "Tilt", saw: "short" }, says: "tilt does not come to an end of its travel" },
  { answer: { kind: "reached", function: "Iris", saw: "nothing" }, says: "iris did not move from end to end" },
  { answer: { kind: "reached", function: "Prism1", saw: "no" }, says: "prism did not do what the profile says" },
  {
    answer: { kind: "showed", function: "Gobo1", told: "one", saw: "a cat" },
    says: 'gobo wheel 1 showed "a cat" for "one"',
  },
])("only the chart can tell: $says", ({ answer, says }) => {
  const { changes, open } = reached(spot, [answer]);
  expect(changes).toEqual([]);
  expect(open[0]).toContain(says);
});

test("an axis the other way round may be the fixture's menu, which is said", () => {
  expect(changeInWords({ kind: "other-way", function: "Pan" })).toContain(
    "inverted in the fixture's menu: look there first",
  );
  expect(changeInWords({ kind: "exchanged", one: "Pan", other: "Tilt" })).toContain("exchanged in the fixture's menu");
});

test("words behind a value take the place of the comment there, and nothing else", () => {
  const text = "a:\n  x: { s: 1.5, t: 2 }   # guessed\n  y: 3\n# end\n";
  expect(remarked(text, ["a", "x", "s"], "measured")).toBe("a:\n  x: { s: 1.5, t: 2 }   # measured\n  y: 3\n# end\n");
  expect(remarked(text, ["a", "y"], "measured")).toBe(
    "a:\n  x: { s: 1.5, t: 2 }   # guessed\n  y: 3   # measured\n# end\n",
  );
  expect(remarked(text, ["a", "z"], "measured")).toBe(text);
});
