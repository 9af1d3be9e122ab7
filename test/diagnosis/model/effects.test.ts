import { describe, expect, test } from "vitest";
import { infer } from "../../../src/diagnosis/model/infer.ts";
import type { PhysicalEffect } from "../../../src/diagnosis/model/knowledge/effect.ts";
import { EFFECTS, type EffectId, type EffectTable } from "../../../src/diagnosis/model/knowledge/effects.ts";
import { buildNetwork, isStranger } from "../../../src/diagnosis/model/network.ts";
import type { SymptomId } from "../../../src/domain/trade/symptoms.ts";
import { SPOT } from "./spot.ts";

/** The likeliest fault when just this was seen, and what else was looked for in vain. */
const blamed = (table: EffectTable, present: readonly string[], absent: readonly string[] = []) => {
  const { posteriors } = infer(buildNetwork(SPOT, table), { present, absent });
  return Object.entries(posteriors)
    .filter(([id]) => !isStranger(id))
    .sort(([, a], [, b]) => b - a)
    .map(([id]) => id);
};

const without = (effect: EffectId, ...symptoms: readonly SymptomId[]): EffectTable => {
  const { words, shows, brings }: PhysicalEffect = EFFECTS[effect];
  return { ...EFFECTS, [effect]: { words, shows: shows.filter(({ symptom }) => !symptoms.includes(symptom)), brings } };
};

const OTHERS_MOVE = ["pan-drive", "tilt-drive", "colour-wheel", "focus", "frost", "prism", "fixed-gobo-wheel"].map(
  (part) => `${part}/no-move`,
);

/** Common practice, no source: each of these signs is how a repairer knows the effect. */
const LINKS = [
  {
    effect: "no-torque",
    symptom: "no-move",
    seen: ["iris/no-move", "iris/wrong-place"],
    not: ["iris/trembles", "iris/jerks", "iris/grinds", "iris/stalls", ...OTHERS_MOVE],
    blames: "driver-dead",
    because: "silent and still: no current",
  },
  {
    effect: "lost-phase",
    symptom: "trembles",
    seen: ["zoom/trembles"],
    not: OTHERS_MOVE,
    blames: "motor-open",
    because: "one phase left: it trembles",
  },
  {
    effect: "play",
    symptom: "side-differs",
    seen: ["pan-drive/side-differs"],
    not: [],
    blames: "pan-belt-slack",
    because: "play rests on either side",
  },
  {
    effect: "play",
    symptom: "swings-on",
    seen: ["tilt-drive/swings-on"],
    not: [],
    blames: "tilt-belt-slack",
    because: "the load swings in its play",
  },
  {
    effect: "feedback-lost",
    symptom: "catches-up",
    seen: ["pan-drive/catches-up"],
    not: [],
    blames: "pan-encoder-dirty",
    because: "the loop loses the place and finds it again",
  },
  {
    effect: "home-lost",
    symptom: "keeps-homing",
    seen: ["colour-wheel/keeps-homing"],
    not: [],
    blames: "colour-wheel-sensor",
    because: "it goes round until the sensor answers",
  },
  {
    effect: "item-loose",
    symptom: "soft-turning",
    seen: ["rotating-gobo-wheel/soft-turning"],
    not: [],
    blames: "gobo-spring",
    because: "it tips out of the sharp plane",
  },
  {
    effect: "gears-miss",
    symptom: "gobos-differ",
    seen: ["rotating-gobo-wheel/gobos-differ"],
    not: [],
    blames: "gobo-gear",
    because: "worn teeth carry one and miss another",
  },
  {
    effect: "out-of-shape",
    symptom: "not-round",
    seen: ["iris/not-round"],
    not: [],
    blames: "iris-leaf-bent",
    because: "a bent leaf shows in the opening",
  },
  {
    effect: "sticks-shut",
    symptom: "hangs-closed",
    seen: ["iris/hangs-closed"],
    not: ["iris/not-round", "iris/grinds"],
    blames: "iris-burnt",
    because: "burnt leaves stick where they overlap",
  },
  {
    effect: "turned-round",
    symptom: "inverted",
    seen: ["pan-drive/inverted"],
    not: [],
    blames: "settings-changed",
    because: "that is what the setting does",
  },
  {
    effect: "strikes-hard",
    symptom: "slow-strike",
    seen: ["fixture/slow-strike"],
    not: ["fixture/dim"],
    blames: "source-driver",
    because: "several tries",
  },
  {
    effect: "by-the-plug",
    symptom: "by-cable",
    seen: ["fixture/by-cable"],
    not: [],
    blames: "data-line",
    because: "touched, it comes and goes",
  },
] as const satisfies readonly {
  readonly effect: EffectId;
  readonly symptom: SymptomId;
  readonly [key: string]: unknown;
}[];

describe("each of these links carries its weight: without it the fault is believed much less", () => {
  test.each(LINKS)("$effect shows as $symptom: $because", ({ effect, symptom, seen, not, blames }) => {
    expect(blamed(EFFECTS, seen, not).slice(0, 3)).toContain(blames);
    const posterior = (table: EffectTable) =>
      infer(buildNetwork(SPOT, table), { present: seen, absent: not }).posteriors[blames]!;
    expect(posterior(without(effect, symptom))).toBeLessThan(0.6 * posterior(EFFECTS));
  });
});

describe("consequences hold for every fault alike", () => {
  const posterior = (fault: string, present: readonly string[], absent: readonly string[] = []) =>
    infer(buildNetwork(SPOT, EFFECTS), { present, absent }).posteriors[fault]!;

  const chance = (present: readonly string[]) =>
    infer(buildNetwork(SPOT, EFFECTS), { present, absent: [] }).probability;

  test.each([
    ["iris/no-move", "iris/wrong-place", "what stands is in the wrong place"],
    ["zoom/stalls", "zoom/moved-after", "a counted drive that is held loses steps"],
    ["pan-drive/stalls", "pan-drive/catches-up", "an encoded drive that is held catches up"],
    ["colour-wheel/stalls", "colour-wheel/grinds", "what rubs is heard"],
  ])("%s brings %s: %s", (seen, more, _) => {
    expect(chance([seen, more]) / chance([seen])).toBeGreaterThan(4 * chance([more]));
  });

  test("one motor of many: the others that work do not speak against it", () => {
    const others = ["pan-drive", "tilt-drive", "zoom", "focus", "frost", "prism", "fixed-gobo-wheel"];
    const alone = posterior("driver-dead", ["iris/no-move"]);
    const watched = posterior(
      "driver-dead",
      ["iris/no-move"],
      others.map((part) => `${part}/no-move`),
    );
    expect(watched).toBeGreaterThan(0.9 * alone);
  });

  test("a common cause gains by each function that it explains", () => {
    const seen = ["zoom/jerks", "iris/no-move", "frost/stalls", "pan-drive/jerks"];
    const chances = seen.map((_, i) => posterior("board-plug-loose", seen.slice(0, i + 1)));
    expect(chances).toEqual([...chances].sort((a, b) => a - b));
    expect(chances.at(-1)).toBeGreaterThan(2.5 * chances[0]!);
  });
});
