import { expect, test } from "vitest";
import type { Offer } from "../../src/diagnosis/model/next.ts";
import { adviceInWords } from "../../src/reports/next-words.ts";

const LOOK: Offer = {
  kind: "inspection",
  inspection: "pan-belt-tension",
  cover: "yoke",
  minutes: 6,
  reason: "would find: pan belt slack or worn",
  expectedMinutes: 6,
  bits: 0.5,
};
const MOVE: Offer = {
  kind: "driven",
  under: "as usual",
  steps: [{ routine: "snap", functions: ["Pan"], options: {} }],
  routine: "snap",
  function: "Pan",
  seconds: 6,
  reason: "confirms pan belt slack or worn if it shows",
  expectedMinutes: 4,
  bits: 0.5,
};
const NO_MOVE = "No further movement is offered: an inspection tells more in the same time.";

test("where no movement is offered it says why", () => {
  expect(adviceInWords({ kind: "offers", offers: [LOOK] }).at(-1)).toBe(NO_MOVE);
  expect(adviceInWords({ kind: "offers", offers: [MOVE, LOOK] })).not.toContain(NO_MOVE);
});

test("what is conclusive says how often such an answer is wrong", () => {
  expect(adviceInWords({ kind: "settled", on: "pan-belt-slack", also: ["lens-grime"] })).toEqual([
    "Conclusive, and wrong about once in 20 times: pan belt slack or worn; and dirt on the lenses.",
  ]);
});
