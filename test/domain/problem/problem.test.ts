import { expect, test } from "vitest";
import { hintFor, nearest } from "../../../src/domain/problem/problem.ts";

test("a misspelt name finds its neighbour, in any case of letters", () => {
  expect(nearest("Irsi", ["Iris", "Zoom"])).toBe("Iris");
  expect(nearest("SPOT-16BIT", ["spot-16bit"])).toBe("spot-16bit");
});

test("a name that is like none gets no guess, but a short list", () => {
  expect(nearest("xylophone", ["Iris", "Zoom"])).toBeUndefined();
  expect(hintFor("xylophone", ["Iris", "Zoom"])).toBe("known: Iris, Zoom");
  expect(hintFor("xylophone", [])).toBeUndefined();
});
