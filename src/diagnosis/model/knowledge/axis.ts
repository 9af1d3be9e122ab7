import type { Probability } from "../../../domain/units.ts";
import { MOSTLY, NEARLY_ALWAYS, OFTEN, SELDOM, SOMETIMES } from "./effect.ts";
import { does, type FaultEffect, type FaultEntry, type Knowledge, namedFaults, STARTER } from "./entry.ts";

type AxisName = "pan" | "tilt";

/** What differs between the two axes. */
interface AxisNumbers {
  readonly beltSlack: Probability;
  /** What the weight of the head adds: nothing to pan, which turns upright. */
  readonly weight: readonly FaultEffect[];
}

/** What goes wrong between the motor of an axis and what it moves. */
const axis = <A extends AxisName>(name: A, { beltSlack, weight }: AxisNumbers) =>
  ({
    origin: STARTER,
    faults: namedFaults(name, {
      ...beltOf(name, beltSlack, weight),
      ...encoderOf(name),
      ...hardwareOf(name),
      ...bearingOf(name),
    }),
  }) satisfies Knowledge;

const beltOf = (name: AxisName, beltSlack: Probability, weight: readonly FaultEffect[]) =>
  ({
    "belt-slack": {
      title: `${name} belt slack or worn`,
      prior: beltSlack,
      when: "always",
      does: [
        does("play", NEARLY_ALWAYS, "a slack belt is play between motor and load"),
        does("slip", SELDOM, "worn teeth jump"),
        ...weight,
      ],
      found: { [`${name}-belt-tension`]: 0.9, [`${name}-belt-edges`]: 0.2, "arm-play": 0.15 },
      cover: "yoke",
      module: `${name} drive`,
      part: `${name} belt`,
      tool: "hex keys, tension gauge",
      minutes: 25,
      remedy: "set the tension as the maker's manual says; a belt with worn teeth or edges is replaced",
      retest: [`${name}-drive`, "yoke-loom"],
      danger: "none",
    },
    "tension-wheel": {
      title: `${name} tension wheel out of true, belt running off`,
      prior: 0.012,
      when: "always",
      does: [
        does("rub-at-a-place", MOSTLY, "the belt edge rubs where the wheel stands out"),
        does("drag", SOMETIMES, "a belt against its flange runs hard"),
        does("play", SOMETIMES, "once in a turn the belt is slack"),
        does("parts-loose", SELDOM, "a wheel with play rattles"),
      ],
      found: { [`${name}-tension-wheel`]: 0.9, [`${name}-belt-edges`]: 0.65 },
      cover: "yoke",
      module: `${name} drive`,
      part: `tension wheel and ${name} belt`,
      tool: "hex keys, circlip pliers",
      minutes: 30,
      remedy: "replace the tension wheel, and the belt if its edges are frayed",
      retest: [`${name}-drive`, "yoke-loom"],
      danger: "none",
    },
  }) satisfies Readonly<Record<string, FaultEntry>>;

const encoderOf = (name: AxisName) =>
  ({
    "encoder-dirty": {
      title: `${name} encoder dirty or out of gap`,
      prior: 0.015,
      when: "always",
      does: [
        does("feedback-lost", NEARLY_ALWAYS, "marks are missed"),
        does("feedback-lost-at-a-place", SOMETIMES, "a blot lies on one part of the disc"),
      ],
      found: { [`${name}-encoder-gap`]: 0.85 },
      cover: "yoke",
      module: `${name} drive`,
      part: `${name} encoder sensor`,
      tool: "lint-free swab, feeler gauge",
      minutes: 15,
      remedy: "clean the disc and the sensor, set the gap",
      retest: [`${name}-drive`],
      danger: "none",
    },
    "encoder-disc": {
      title: `${name} encoder disc rubbed or damaged`,
      prior: 0.006,
      when: "always",
      does: [
        does("feedback-lost-at-a-place", NEARLY_ALWAYS, "marks are gone where it was rubbed"),
        does("feedback-lost", OFTEN, "what stands still and rubs a turning disc scratches it all round"),
        does("rub-at-a-place", SOMETIMES, "what rubbed it may still rub"),
      ],
      found: { [`${name}-encoder-marks`]: 0.75, [`${name}-encoder-gap`]: 0.3 },
      cover: "yoke",
      module: `${name} drive`,
      part: `${name} encoder disc`,
      tool: "hex keys",
      minutes: 35,
      remedy: "replace the disc; look for what rubbed it: a bent yoke, a bearing",
      retest: [`${name}-drive`],
      danger: "none",
    },
  }) satisfies Readonly<Record<string, FaultEntry>>;

const hardwareOf = (name: AxisName) =>
  ({
    "pulley-loose": {
      title: `${name} pulley turns on its motor shaft`,
      prior: 0.006,
      when: "always",
      does: [
        does("slip", NEARLY_ALWAYS, "the screw does not hold the shaft"),
        does("play", SOMETIMES, "on a flat it turns to and fro before it slips"),
      ],
      found: { [`${name}-pulley-screw`]: 0.9 },
      cover: "yoke",
      module: `${name} drive`,
      part: "grub screw",
      tool: "hex keys, thread lock",
      minutes: 15,
      remedy: "tighten the grub screw on the flat of the shaft with thread lock",
      retest: [`${name}-drive`],
      danger: "none",
    },
    "stop-off": {
      title: `${name} end stop or home flag bent or loose`,
      prior: 0.006,
      when: "always",
      does: [
        does("bind-at-an-end", MOSTLY, "a bent stop stands in the way before the end"),
        does("home-lost", OFTEN, "home is taken from the flag"),
        does("parts-loose", SELDOM, "a loose stop rattles"),
      ],
      found: { [`${name}-stop`]: 0.85 },
      cover: "yoke",
      module: `${name} drive`,
      part: `${name} end stop or home flag`,
      tool: "hex keys",
      minutes: 20,
      remedy: "straighten or replace the stop, tighten the flag",
      retest: [`${name}-drive`],
      danger: "none",
    },
  }) satisfies Readonly<Record<string, FaultEntry>>;

const bearingOf = (name: AxisName) =>
  ({
    "bearing-rough": {
      title: `${name} bearing rough or dry`,
      prior: 0.007,
      when: "always",
      does: [
        does("drag", MOSTLY, "a dry bearing runs hard all the way"),
        does("rub-at-a-place", OFTEN, "a dent in the track is met at one place"),
        does("shakes", SELDOM, "a worn bearing has play"),
      ],
      found: { [`${name}-by-hand`]: 0.8, "arm-play": 0.1 },
      cover: "yoke",
      module: `${name} drive`,
      part: `${name} bearing`,
      tool: "bearing tools",
      minutes: 60,
      remedy: "replace the bearing",
      retest: [`${name}-drive`, "yoke-loom"],
      danger: "none",
    },
  }) satisfies Readonly<Record<string, FaultEntry>>;

export const PAN_DRIVE = axis("pan", { beltSlack: 0.025, weight: [] });

/** The head is not balanced, so play shows sooner than on pan. */
export const TILT_DRIVE = axis("tilt", {
  beltSlack: 0.035,
  weight: [does("weight-wins", SOMETIMES, "the head is heavier on one side and hangs in the slack belt")],
});
