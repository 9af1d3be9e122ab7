import { type FunctionId, functionWords } from "../trade/functions.ts";
import type { PartScene, Scene, Sounds } from "./scene.ts";

/** What a person at the simulated bench sees and hears, for a screen to draw: places on strips and words, never causes. */
export interface Shown {
  readonly strips: readonly Strip[];
  /** "tilt: scrape", loudest first. */
  readonly sounds: readonly string[];
  readonly light: string;
  readonly display: string;
}

export interface Strip {
  readonly function: FunctionId;
  readonly words: string;
  /** Along the strip, 0 to 1; round and round for what turns. */
  readonly at: number;
  /** The same in the words of the part: degrees, the item in the beam, in or out. */
  readonly reads: string;
  readonly trembles: boolean;
}

const HEARD = 0.15;
const LOUD = 0.55;
const SOUNDS = ["scrape", "knock", "tick", "whine", "rattle"] as const satisfies readonly (keyof Sounds)[];

export const shown = (scene: Scene): Shown => ({
  strips: scene.parts.map(strip),
  sounds: [...scene.parts.flatMap(heard), ...fans(scene)].sort((a, b) => b.loud - a.loud).map(({ words }) => words),
  light: lightOf(scene),
  display: scene.display,
});

const strip = (part: PartScene): Strip => ({
  function: part.function,
  words: functionWords(part.function),
  at: part.kind === "wheel" || part.kind === "turn" ? part.at - Math.floor(part.at) : Math.min(1, Math.max(0, part.at)),
  reads: reading(part),
  trembles: part.trembles > 0.15,
});

const reading = (part: PartScene): string => {
  switch (part.kind) {
    case "travel":
      return part.physical.toFixed(1);
    case "wheel":
      return part.item;
    case "turn":
      return `${Math.round((part.at - Math.floor(part.at)) * 360)}°`;
    case "leaf":
      return part.at > 0.9 ? "in" : part.at < 0.1 ? "out" : "between";
    case "light":
      return `${Math.round(part.at * 100)} %`;
    default:
      return part satisfies never;
  }
};

interface Heard {
  readonly loud: number;
  readonly words: string;
}

const heard = (part: PartScene): readonly Heard[] =>
  SOUNDS.flatMap((sound) => {
    const loud = part.sounds[sound];
    if (loud < HEARD) return [];
    return [{ loud, words: `${functionWords(part.function)}: ${loud > LOUD ? "loud " : ""}${sound}` }];
  });

const fans = ({ fan }: Scene): readonly Heard[] => [
  ...(fan.loud > HEARD ? [{ loud: fan.loud, words: "fan: loud" }] : []),
  ...(fan.tick > HEARD ? [{ loud: fan.tick, words: "fan: tick" }] : []),
];

/** The picture on the wall in a few words. */
const lightOf = ({ picture }: Scene): string => {
  if (picture.output < 0.01) return "dark";
  const seen: readonly (readonly [boolean, string])[] = [
    [true, `light ${Math.round(picture.output * 100)} %`],
    [picture.tint > HEARD, "tinted"],
    [picture.veil > HEARD, "a veil round it"],
    [picture.shadow > HEARD, "a shadow in it"],
    [picture.oval > HEARD, "not round"],
    [picture.wobble > HEARD, "wobbling"],
    [picture.soft > HEARD, "soft"],
  ];
  return seen.flatMap(([shows, words]) => (shows ? [words] : [])).join(", ");
};
