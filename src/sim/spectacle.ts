import { functionWords } from "../domain/trade/functions.ts";
import type { Frame } from "../domain/units.ts";
import type { Spectacle } from "../run/ports.ts";
import type { PartScene, Scene, Sounds } from "./scene.ts";

const HEARD = 0.15;
const LOUD = 0.55;
const SOUNDS = ["scrape", "knock", "tick", "whine", "rattle"] as const satisfies readonly (keyof Sounds)[];

/** What a person at the simulated bench sees and hears, frame by frame: a knock is over before anybody could read it, so sounds linger. */
export class Show {
  private scene: Scene | undefined;
  private frame: Frame = 0;
  private readonly heardAt = new Map<string, Frame>();

  /** Takes in one frame. */
  see(scene: Scene): void {
    this.scene = scene;
    this.frame += 1;
    for (const sound of soundsOf(scene)) this.heardAt.set(sound, this.frame);
  }

  /** What there is to be seen and heard now, with what was heard a moment ago; undefined before the first frame. */
  now(): Spectacle | undefined {
    if (!this.scene) return undefined;
    const seen = spectacleOf(this.scene);
    const lingering = [...this.heardAt].flatMap(([sound, frame]) => (this.frame - frame < LINGERS ? [sound] : []));
    return { ...seen, sounds: [...seen.sounds, ...lingering.filter((sound) => !seen.sounds.includes(sound))] };
  }
}

/** How long a sound stays on a screen. */
const LINGERS: Frame = 24;

/** The scene for a person at the simulated bench: places along strips, words for sounds and light, never causes. */
export const spectacleOf = (scene: Scene): Spectacle => ({
  parts: scene.parts.map((part) => ({
    function: part.function,
    share: shaken(part, scene.frame),
    words: wordsOf(part),
  })),
  sounds: soundsOf(scene),
  light: lightOf(scene),
  display: scene.display,
});

/** What is to be heard, the loudest first. */
const soundsOf = (scene: Scene): readonly string[] =>
  [...scene.parts.flatMap(heard), ...fans(scene)].sort((a, b) => b.loud - a.loud).map(({ words }) => words);

/** How far it trembles to either side at its hardest, as a share of the travel; as fast as a screen can show it. */
const TREMBLE = 0.006;
const shaken = (part: PartScene, frame: Frame): number => {
  const at = shareOf(part);
  if (part.trembles <= HEARD) return at;
  const way = frame % 4 < 2 ? 1 : -1;
  return inTravel(part) ? Math.min(1, Math.max(0, at + way * part.trembles * TREMBLE)) : at;
};
const inTravel = ({ kind }: PartScene): boolean => kind !== "wheel" && kind !== "turn";

/** Turns stay turns; what has ends stays between them. */
const shareOf = ({ kind, at }: PartScene): number =>
  kind === "wheel" || kind === "turn" ? at : Math.min(1, Math.max(0, at));

const wordsOf = (part: PartScene): string => {
  const words = [...placeWords(part), ...(part.trembles > HEARD ? ["trembles"] : [])];
  if (part.kind === "travel" && part.patchy > HEARD) words.push("patchy");
  return words.join(", ");
};

/** The item nearest the middle of the beam, or that it stands between two. */
const placeWords = (part: PartScene): readonly string[] => {
  if (part.kind === "leaf") return [part.at > 0.9 ? inWord(part) : part.at < 0.1 ? outWord(part) : "half in"];
  if (part.kind !== "wheel") return [];
  const beside = Math.abs(part.at * part.places - Math.round(part.at * part.places));
  return [beside > 0.12 ? `between ${part.item} and ${part.neighbour}` : part.item];
};

const inWord = ({ function: id }: PartScene): string => (id.startsWith("Shutter") ? "shut" : "in");
const outWord = ({ function: id }: PartScene): string => (id.startsWith("Shutter") ? "open" : "out");

interface HeardPart {
  readonly loud: number;
  readonly words: string;
}

const heard = (part: PartScene): readonly HeardPart[] =>
  SOUNDS.flatMap((sound) => {
    const loud = part.sounds[sound];
    if (loud < HEARD) return [];
    return [{ loud, words: `${functionWords(part.function)}: ${loud > LOUD ? "loud " : ""}${sound}` }];
  });

const fans = ({ fan }: Scene): readonly HeardPart[] => [
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
