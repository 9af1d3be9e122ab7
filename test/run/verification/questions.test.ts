import { expect, test } from "vitest";
import { parseSequence } from "../../../src/data/sequence/parse.ts";
import { compile } from "../../../src/plan/compile.ts";
import { expected, questionFor } from "../../../src/run/verification/questions.ts";
import { firstPart, secondPart } from "../../../src/run/verification/steps.ts";
import { must, shippedBench, shippedProfile } from "../../kit/shipped.ts";

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
