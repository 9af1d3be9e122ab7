import type { FunctionId } from "../domain/trade/functions.ts";
import type { PartBuild } from "./build.ts";
import { clamp } from "./follower.ts";
import type { PartScene, Picture } from "./scene.ts";
import type { OpticsTrouble, SourceTrouble, Spoils, TroubledMoment } from "./trouble.ts";

const EMITTERS: Readonly<Partial<Record<FunctionId, readonly [number, number, number]>>> = {
  ColorAdd_R: [1, 0, 0],
  ColorAdd_G: [0, 1, 0],
  ColorAdd_B: [0, 0, 1],
  ColorAdd_W: [1, 1, 1],
};

export interface Glass {
  readonly parts: readonly PartScene[];
  readonly builds: readonly PartBuild[];
  /** Light of the source, 0 to 1. */
  readonly source: number;
  readonly spoils: Spoils;
  readonly sources: readonly SourceTrouble[];
}

/** What reaches the wall: the source through everything that stands in its way. */
export const pictureOf = (glass: Glass): Picture => {
  const { sources, source, spoils } = glass;
  const dark = sources.flatMap(({ emitter }) => (emitter && level(glass, emitter) > 0.05 ? [emitter] : []));
  const [red, green, blue] = mixed(glass, dark);
  const field = source * (1 - spoils.dim);
  const output = passed(glass, field, spoils.leak) * Math.max(red, green, blue);
  const { tint, veil, shadow, oval, leak, wobble, soft } = spoils;
  return { output, field, lit: source > 0, red, green, blue, dark, tint, veil, shadow, oval, leak, wobble, soft };
};

/** Through dimmer, iris and shutter; a leak shows where all is shut. */
const passed = (glass: Glass, field: number, leak: number): number => {
  const dimmed = field * (fitted(glass, "Dimmer") ? level(glass, "Dimmer") : 1) * opening(glass);
  const open = 1 - Math.min(1, level(glass, "Shutter1"));
  return dimmed * (open < 0.02 ? leak : open);
};

/** How all troubles of the optics together spoil the picture; each spoils what the others have left. */
export const spoilsOf = (optics: readonly OpticsTrouble[], look: TroubledMoment): Spoils => {
  const found = optics.flatMap(({ spoils }) => spoils?.(look) ?? []);
  const sum = (key: keyof Spoils) => 1 - found.reduce((left, more) => left * (1 - (more[key] ?? 0)), 1);
  return {
    dim: sum("dim"),
    tint: sum("tint"),
    veil: sum("veil"),
    shadow: sum("shadow"),
    oval: sum("oval"),
    leak: sum("leak"),
    wobble: sum("wobble"),
    soft: sum("soft"),
  };
};

/** Nothing spoils the picture. */
export const CLEAR: Spoils = { dim: 0, tint: 0, veil: 0, shadow: 0, oval: 0, leak: 0, wobble: 0, soft: 0 };

/** Emitters add up; flags take away. */
const mixed = (glass: Glass, dark: readonly FunctionId[]): readonly [number, number, number] => {
  const emitters = glass.parts.filter((part) => part.function in EMITTERS);
  const shining = emitters.filter((part) => !dark.includes(part.function));
  const sum = (n: 0 | 1 | 2) => shining.reduce((all, part) => all + part.at * (EMITTERS[part.function]?.[n] ?? 0), 0);
  const light = (n: 0 | 1 | 2) => (emitters.length === 0 ? 1 : Math.min(1, sum(n)));
  const warm = share(glass, "CTO");
  const passes = (id: FunctionId, most: number) => 1 - most * share(glass, id);
  return [
    light(0) * passes("ColorSub_C", 0.93),
    light(1) * passes("ColorSub_M", 0.93) * (1 - 0.25 * warm),
    light(2) * passes("ColorSub_Y", 0.93) * (1 - 0.6 * warm),
  ];
};

/** The iris counts by its opening: the smaller the physical value, the smaller the hole. */
const opening = (glass: Glass): number => {
  if (!fitted(glass, "Iris")) return 1;
  return 0.05 + 0.95 * (falls(glass, "Iris") ? 1 - share(glass, "Iris") : share(glass, "Iris"));
};

const falls = ({ builds }: Glass, id: FunctionId): boolean =>
  builds.some((part) => part.kind === "travel" && part.function === id && part.from > part.to);

const found = ({ parts }: Glass, id: FunctionId) => parts.find((part) => part.function === id);
const fitted = (glass: Glass, id: FunctionId): boolean => found(glass, id) !== undefined;
const level = (glass: Glass, id: FunctionId): number => found(glass, id)?.at ?? 0;
const share = (glass: Glass, id: FunctionId): number => clamp(level(glass, id), 0, 1);
