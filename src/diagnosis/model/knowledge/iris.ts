import { MOSTLY, NEARLY_ALWAYS, OFTEN, SELDOM } from "./effect.ts";
import { does, type Knowledge, STARTER } from "./entry.ts";

/** What goes wrong with an iris; common practice: a bent leaf means a new iris. */
export const IRIS = {
  origin: STARTER,
  faults: {
    "iris-leaf-bent": {
      title: "iris leaf bent",
      prior: 0.02,
      when: "always",
      does: [
        does("rub-at-a-place", NEARLY_ALWAYS, "a bent leaf scrapes the others"),
        does("out-of-shape", MOSTLY, "a bent leaf shows in the opening"),
        does("sticks-shut", SELDOM, "bent leaves hook on each other"),
      ],
      found: { "iris-leaves": 0.8, "iris-by-hand": 0.7 },
      cover: "head",
      module: "iris",
      part: "iris",
      tool: "hex keys",
      minutes: 35,
      remedy: "replace the iris",
      retest: ["iris"],
      danger: "none",
    },
    "iris-burnt": {
      title: "iris leaves burnt or dry",
      prior: 0.012,
      when: "always",
      does: [
        does("drag", MOSTLY, "burnt leaves run hard"),
        does("sticks-shut", MOSTLY, "burnt leaves stick where they overlap most"),
        does("rub-at-a-place", SELDOM, "a blistered leaf is felt at one place"),
      ],
      found: { "iris-leaves": 0.55, "iris-by-hand": 0.45 },
      cover: "head",
      module: "iris",
      part: "iris",
      tool: "hex keys",
      minutes: 35,
      remedy: "replace the iris, look at the heat filter",
      retest: ["iris"],
      danger: "none",
    },
    "iris-lever": {
      title: "iris lever slack at its motor",
      prior: 0.008,
      when: "always",
      does: [
        does("slip", MOSTLY, "the lever turns on the shaft"),
        does("play", OFTEN, "a slack lever is play"),
        does("bind-at-an-end", SELDOM, "its reach no longer covers the travel"),
      ],
      found: { "iris-lever": 0.85 },
      cover: "head",
      module: "iris",
      part: "lever screw",
      tool: "hex keys, thread lock",
      minutes: 15,
      remedy: "tighten the lever, take up the play",
      retest: ["iris"],
      danger: "none",
    },
  },
} as const satisfies Knowledge;
