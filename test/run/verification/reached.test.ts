import { expect, test } from "vitest";
import { parseProfile } from "../../../src/data/profile/parse.ts";
import { physicalOf, type Travel } from "../../../src/data/profile/profile.ts";
import { edited, remarked } from "../../../src/domain/problem/edit.ts";
import { changeInWords, editsFor, type ProfileChange } from "../../../src/run/verification/change.ts";
import { type ProofAnswer, reached } from "../../../src/run/verification/questions.ts";
import { must, shippedProfile, shippedText } from "../../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
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
