import { MOSTLY, NEARLY_ALWAYS, OFTEN, SELDOM, SOMETIMES } from "./effect.ts";
import { does, type Knowledge, STARTER } from "./entry.ts";

/** What goes wrong with a frost. */
export const FROST = {
  origin: STARTER,
  faults: {
    "frost-warped": {
      title: "frost warped by heat",
      prior: 0.012,
      when: "always",
      does: [
        does("out-of-shape", NEARLY_ALWAYS, "warped is out of shape"),
        does("rub-at-a-place", MOSTLY, "where it stands out it touches"),
        does("bind-at-an-end", SELDOM, "it does not fit its place any more"),
        does("drag", SOMETIMES, "curled it rubs all the way"),
      ],
      found: { "frost-flat": 0.9, "frost-by-hand": 0.4 },
      cover: "head",
      module: "frost",
      part: "frost glass or foil",
      tool: "gloves",
      minutes: 15,
      remedy: "replace the frost, look for heat",
      retest: ["frost"],
      danger: "none",
    },
    "frost-drags": {
      title: "frost arm fouled or dragging",
      prior: 0.01,
      when: "always",
      does: [
        does("drag", NEARLY_ALWAYS, "a gummed arm runs hard"),
        does("bind-at-an-end", SOMETIMES, "it does not get the last bit in or out"),
      ],
      found: { "frost-by-hand": 0.85 },
      cover: "head",
      module: "frost",
      part: "frost arm",
      tool: "lint-free pad",
      minutes: 15,
      remedy: "clean and free the arm",
      retest: ["frost"],
      danger: "none",
    },
    "frost-arm": {
      title: "frost arm slack on its shaft",
      prior: 0.006,
      when: "always",
      does: [
        does("slip", MOSTLY, "the screw does not hold the shaft"),
        does("weight-wins", OFTEN, "slack, it follows its weight"),
      ],
      found: { "frost-arm": 0.9 },
      cover: "head",
      module: "frost",
      part: "grub screw",
      tool: "hex keys, thread lock",
      minutes: 12,
      remedy: "tighten the arm on its shaft with thread lock",
      retest: ["frost"],
      danger: "none",
    },
  },
} as const satisfies Knowledge;
