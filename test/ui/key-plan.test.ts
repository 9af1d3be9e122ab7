import { expect, test } from "vitest";
import { ACTIONS, actionOf, anyOf, isKey, keyPlan } from "../../src/ui/key-plan.ts";

const USUAL = { press: ["space", "pagedown"], again: ["a", "pageup"], stop: ["s", "escape"] };

test("every action has a letter of its own, and none is a button of the bench", () => {
  for (const buttons of [USUAL, { press: ["g", "n"], again: ["b", "W"], stop: ["u", "l"] }]) {
    const letters = Object.values(keyPlan(buttons).letters);
    expect(new Set(letters).size).toBe(ACTIONS.length);
    const taken = Object.values(buttons)
      .flat()
      .map((key) => key.toLowerCase());
    expect(letters.filter((letter) => taken.includes(letter))).toEqual([]);
  }
});

test("a stuck caps lock changes nothing", () => {
  const plan = keyPlan(USUAL);
  expect(isKey(plan.again, "A")).toBe(true);
  expect(actionOf(plan, "U")).toBe("undo");
});

test("keys are named as they stand on the keyboard", () => {
  expect(anyOf(USUAL.press)).toBe("SPACE or PAGE DOWN");
  expect(anyOf(USUAL.again)).toBe("A or PAGE UP");
});
