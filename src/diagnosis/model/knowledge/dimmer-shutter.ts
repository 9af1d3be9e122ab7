import { MOSTLY, NEARLY_ALWAYS, OFTEN, SELDOM, SOMETIMES } from "./effect.ts";
import { does, type Knowledge, STARTER } from "./entry.ts";

/** What goes wrong with dimmer and shutter blades. */
export const DIMMER_SHUTTER = {
  origin: STARTER,
  faults: {
    "shutter-drags": {
      title: "shutter or dimmer blade sticks",
      prior: 0.02,
      when: "always",
      does: [
        does("drag", NEARLY_ALWAYS, "a gummed pivot runs hard"),
        does("sticks-shut", SOMETIMES, "blades stick where they overlap"),
        does("bind-at-an-end", OFTEN, "it does not get quite shut or open"),
      ],
      found: { "shutter-by-hand": 0.85 },
      cover: "head",
      module: "dimmer and shutter",
      part: "blade pivot",
      tool: "lint-free pad",
      minutes: 20,
      remedy: "clean and free the blade",
      retest: ["dimmer-shutter"],
      danger: "none",
    },
    "shutter-warped": {
      title: "shutter or dimmer blade warped by heat",
      prior: 0.01,
      when: "always",
      does: [
        does("out-of-shape", NEARLY_ALWAYS, "warped is out of shape"),
        does("rub-at-a-place", MOSTLY, "where it stands out it touches"),
        does("sticks-shut", SELDOM, "warped blades hook on each other"),
      ],
      found: { "shutter-flat": 0.9, "shutter-by-hand": 0.35 },
      cover: "head",
      module: "dimmer and shutter",
      part: "blade",
      tool: "hex keys",
      minutes: 30,
      remedy: "replace the blade, look for heat",
      retest: ["dimmer-shutter"],
      danger: "none",
    },
    "shutter-bumper": {
      title: "bumper gone or shaft screw of the shutter slack",
      prior: 0.008,
      when: "always",
      does: [
        does("no-bumper", MOSTLY, "without a bumper it strikes"),
        does("slip", OFTEN, "a slack screw does not hold the shaft"),
      ],
      found: { "shutter-bumper": 0.9 },
      cover: "head",
      module: "dimmer and shutter",
      part: "bumper or grub screw",
      tool: "hex keys, thread lock",
      minutes: 15,
      remedy: "replace the bumper, tighten the screw",
      retest: ["dimmer-shutter"],
      danger: "none",
    },
  },
} as const satisfies Knowledge;
