import { expect, test } from "vitest";
import { rank, sayChange } from "../../../src/diagnosis/model/rank.ts";
import { runWith, SPOT } from "./spot.ts";

const slack = { "snap Pan": ["swings-on"] } as const;
const after = (...more: Parameters<typeof rank>) =>
  sayChange(rank(SPOT, runWith(slack)), rank(...more), "the last inspection");

test("an answer that speaks for what was first says so", () => {
  expect(after(SPOT, runWith(slack), [{ inspection: "pan-belt-tension", answer: "bad" }])).toBe(
    "The last inspection speaks for pan belt slack or worn, which stays first.",
  );
});

test("an answer that puts another first names both", () => {
  expect(after(SPOT, runWith(slack), [{ inspection: "pan-belt-tension", answer: "good" }])).toMatch(
    /^After the last inspection .+ comes first, before that pan belt slack or worn\.$/,
  );
});

test("an answer that changes nothing says why", () => {
  expect(after(SPOT, runWith(slack), [{ inspection: "iris-by-hand", answer: "good" }])).toBe(
    "The last inspection changed little: pan belt slack or worn stays first, the other likely answers would have shown the same.",
  );
});
