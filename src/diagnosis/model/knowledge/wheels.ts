import type { InspectionId } from "../../../domain/trade/inspections.ts";
import type { Probability } from "../../../domain/units.ts";
import { MOSTLY, NEARLY_ALWAYS, OFTEN, SELDOM, SOMETIMES } from "./effect.ts";
import { does, type FaultEffect, type FaultEntry, type Knowledge, namedFaults, STARTER } from "./entry.ts";

/** A wheel that brings glass into the beam, and how its faults are named and how common they are. */
interface WheelFigures {
  readonly mechanism: "colour-wheel" | "fixed-gobo-wheel" | "rotating-gobo-wheel" | "effect-wheel";
  readonly words: string;
  readonly looks: { readonly magnet: InspectionId; readonly hub: InspectionId; readonly byHand: InspectionId };
  readonly priors: { readonly sensor: Probability; readonly hub: Probability; readonly drags: Probability };
  /** What its turning adds. */
  readonly drags: readonly FaultEffect[];
  readonly hub: readonly FaultEffect[];
}

/** What goes wrong with any wheel: its home, its hub, its run. */
const wheel = (figures: WheelFigures) => ({ ...placeOf(figures), ...runOf(figures) });

const placeOf = ({ mechanism, words, looks, priors, hub }: WheelFigures) =>
  ({
    sensor: {
      title: `${words} home sensor or magnet loose or dirty`,
      prior: priors.sensor,
      when: "always",
      does: [does("home-lost", NEARLY_ALWAYS, "home is taken from the sensor")],
      found: { [looks.magnet]: 0.85 },
      cover: "head",
      module: words,
      part: "home magnet or sensor",
      tool: "adhesive as the maker says, feeler gauge",
      minutes: 20,
      remedy: "clean, fix the magnet, set the gap",
      retest: [mechanism],
      danger: "none",
    },
    hub: {
      title: mechanism === "effect-wheel" ? `${words} slack on its shaft` : `${words} turns on its motor shaft`,
      prior: priors.hub,
      when: "always",
      does: [does("slip", NEARLY_ALWAYS, "the screw does not hold the shaft"), ...hub],
      found: { [looks.hub]: 0.9 },
      cover: "head",
      module: words,
      part: "grub screw",
      tool: "hex keys, thread lock",
      minutes: 15,
      remedy: "tighten the wheel on its shaft with thread lock",
      retest: [mechanism],
      danger: "none",
    },
  }) satisfies Readonly<Record<string, FaultEntry>>;

const runOf = ({ mechanism, words, looks, priors, drags }: WheelFigures) =>
  ({
    drags: {
      title: mechanism === "effect-wheel" ? `${words} rubs or its bearing is rough` : `${words} rubs or drags`,
      prior: priors.drags,
      when: "always",
      does: [
        does("drag", MOSTLY, "dirt and dry bearings hold it all the way"),
        does("rub-at-a-place", MOSTLY, "a bent wheel touches where it stands out"),
        does("out-of-shape", SELDOM, "a bent wheel turns out of true"),
        ...drags,
      ],
      found: { [looks.byHand]: 0.85 },
      cover: "head",
      module: words,
      part: mechanism === "effect-wheel" ? "wheel bearing" : "wheel or its bearing",
      tool: "hex keys, shims",
      minutes: 30,
      remedy: "clean, straighten or shim the wheel, replace a dry bearing",
      retest: [mechanism],
      danger: "none",
    },
  }) satisfies Readonly<Record<string, FaultEntry>>;

export const COLOUR_WHEEL = {
  origin: STARTER,
  faults: {
    ...namedFaults(
      "colour-wheel",
      wheel({
        mechanism: "colour-wheel",
        words: "colour wheel",
        looks: { magnet: "colour-wheel-magnet", hub: "colour-wheel-hub", byHand: "colour-wheel-by-hand" },
        priors: { sensor: 0.015, hub: 0.006, drags: 0.01 },
        drags: [],
        hub: [],
      }),
    ),
    "colour-filter-loose": {
      title: "colour filter loose or cracked",
      prior: 0.008,
      when: "always",
      does: [
        does("item-loose", MOSTLY, "a filter out of its clip"),
        does("stained", OFTEN, "a crack is seen in the colour"),
        does("rub-at-a-place", SOMETIMES, "where it stands out it touches"),
      ],
      found: { filters: 0.9 },
      cover: "head",
      module: "colour wheel",
      part: "dichroic filter",
      tool: "gloves, eye protection: sharp edges",
      minutes: 15,
      remedy: "seat or replace the filter",
      retest: ["colour-wheel"],
      danger: "none",
    },
  },
} as const satisfies Knowledge;

export const FIXED_GOBO_WHEEL = {
  origin: STARTER,
  faults: {
    ...namedFaults(
      "fixed-gobos",
      wheel({
        mechanism: "fixed-gobo-wheel",
        words: "fixed gobo wheel",
        looks: { magnet: "fixed-gobos-magnet", hub: "fixed-gobos-hub", byHand: "fixed-gobos-by-hand" },
        priors: { sensor: 0.012, hub: 0.005, drags: 0.008 },
        drags: [],
        hub: [],
      }),
    ),
    "fixed-gobo-loose": {
      title: "fixed gobo loose or warped in its seat",
      prior: 0.008,
      when: "always",
      does: [
        does("item-loose", NEARLY_ALWAYS, "a gobo out of its clip"),
        does("rub-at-a-place", SOMETIMES, "where it stands out it touches"),
      ],
      found: { "fixed-gobos-seat": 0.9 },
      cover: "head",
      module: "fixed gobo wheel",
      part: "gobo or its clip",
      tool: "gloves",
      minutes: 10,
      remedy: "seat or replace the gobo",
      retest: ["fixed-gobo-wheel"],
      danger: "none",
    },
  },
} as const satisfies Knowledge;

export const EFFECT_WHEEL = {
  origin: STARTER,
  faults: namedFaults(
    "effect-wheel",
    wheel({
      mechanism: "effect-wheel",
      words: "animation wheel",
      looks: { magnet: "effect-wheel-magnet", hub: "effect-wheel-hub", byHand: "effect-wheel-by-hand" },
      priors: { sensor: 0.006, hub: 0.004, drags: 0.008 },
      drags: [does("turns-rough", MOSTLY, "its work is turning")],
      hub: [does("item-loose", OFTEN, "slack on its shaft it wobbles as it turns")],
    }),
  ),
} as const satisfies Knowledge;

/** The wheel, its springs, its drive, one holder. */
export const ROTATING_GOBO_WHEEL = {
  origin: STARTER,
  faults: {
    ...namedFaults(
      "gobo-wheel",
      wheel({
        mechanism: "rotating-gobo-wheel",
        words: "rotating gobo wheel",
        looks: { magnet: "gobo-wheel-magnet", hub: "gobo-wheel-hub", byHand: "gobo-wheel-by-hand" },
        priors: { sensor: 0.015, hub: 0.005, drags: 0.008 },
        drags: [],
        hub: [],
      }),
    ),
    "gobo-spring": {
      title: "gobo spring not seated",
      prior: 0.02,
      when: "always",
      does: [does("item-loose", NEARLY_ALWAYS, "nothing presses the gobo into its holder")],
      found: { "gobo-springs": 0.9 },
      cover: "head",
      module: "rotating gobo wheel",
      part: "gobo spring",
      tool: "gloves, eye protection: springs fly",
      minutes: 10,
      remedy: "seat or replace the spring",
      retest: ["rotating-gobo-wheel"],
      danger: "none",
    },
    "gobo-gear": {
      title: "gobo drive of the wheel worn or dirty",
      prior: 0.02,
      when: "always",
      does: [
        does("gears-miss", NEARLY_ALWAYS, "worn or dirty teeth are what it is"),
        does("turns-rough", OFTEN, "dirt between the teeth is felt at every turn"),
      ],
      found: { "gobo-gears": 0.85, "gobos-by-hand": 0.2 },
      cover: "head",
      module: "rotating gobo wheel",
      part: "gobo drive gear",
      tool: "brush, gear as the maker's parts list",
      minutes: 30,
      remedy: "clean the teeth, replace a worn gear, take up play of the axle",
      retest: ["rotating-gobo-wheel"],
      danger: "none",
    },
    "gobo-holder": {
      title: "bearing of one gobo holder rough",
      prior: 0.01,
      when: "always",
      does: [
        does("turns-rough", NEARLY_ALWAYS, "a rough bearing is what it is"),
        does("item-loose", SOMETIMES, "a worn bearing lets the holder tip"),
        does("gears-miss", SELDOM, "it is the one that stays behind"),
      ],
      found: { "gobos-by-hand": 0.85 },
      cover: "head",
      module: "rotating gobo wheel",
      part: "gobo holder",
      tool: "circlip pliers",
      minutes: 20,
      remedy: "clean or replace the holder",
      retest: ["rotating-gobo-wheel"],
      danger: "none",
    },
  },
} as const satisfies Knowledge;
