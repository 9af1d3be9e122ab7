import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import type { FixtureBuild, PartBuild } from "./build.ts";
import { clamp } from "./follower.ts";
import type { Source } from "./lamp.ts";
import type { FrameMoment } from "./moment.ts";
import type { Receiver } from "./receiver.ts";
import type { PartScene, Picture, Scene } from "./scene.ts";
import type { AirTrouble, OpticsTrouble, PartTrouble, SourceTrouble, Spoils, TroubledMoment } from "./trouble.ts";

/** The troubles that show of themselves and not in how something moves, by kind. */
export interface SeenTroubles {
  readonly optics: readonly OpticsTrouble[];
  readonly sources: readonly SourceTrouble[];
  readonly air: readonly AirTrouble[];
}

/** Sorts the troubles that can be seen by where they sit: the optics, the source of light, the cooling air. */
export const seenTroubles = (troubles: readonly PartTrouble[]): SeenTroubles => ({
  optics: troubles.filter((trouble) => trouble.kind === "optics"),
  sources: troubles.filter((trouble) => trouble.kind === "source"),
  air: troubles.filter((trouble) => trouble.kind === "air"),
});

export interface SimStage {
  readonly parts: readonly PartScene[];
  readonly phase: Scene["phase"];
  readonly build: FixtureBuild;
  readonly troubles: SeenTroubles;
  readonly source: Source;
  readonly receiver: Receiver;
  readonly failed: readonly FunctionId[];
  readonly moment: FrameMoment;
}

/** Puts together what shows of the fixture in this frame. */
export const sceneOf = (stage: SimStage): Scene => {
  const { parts, phase, build, troubles, source, moment } = stage;
  const { optics, sources, air } = troubles;
  const look = optics.length === 0 ? undefined : lookAt(parts, moment);
  const spoils = look ? spoilsOf(optics, look) : CLEAR;
  const picture = pictureOf({ parts, builds: build.parts, source: source.output, spoils, sources });
  return {
    frame: moment.frame,
    phase,
    display: displayOf(stage),
    parts: look ? parts.map((part) => blotched(part, optics, look)) : parts,
    picture: stage.receiver.dark ? { ...picture, output: 0 } : picture,
    fan: fanOf(air, moment),
    smell: Math.max(0, ...air.map(({ smell }) => smell?.(moment) ?? 0)),
    upright: moment.upright,
    pan_deg: moment.pan_deg,
  };
};

const lookAt = (parts: readonly PartScene[], moment: FrameMoment): TroubledMoment => ({
  ...moment,
  at: (id) => parts.find((part) => part.function === id)?.at ?? 0,
});

const displayOf = ({ phase, failed, receiver }: SimStage): string => {
  if (phase === "off") return "";
  if (phase === "homing") return "homing";
  if (failed.length > 0) return `error: ${failed.map(functionWords).join(", ")}`;
  return receiver.lost ? "no data" : `address ${receiver.address}`;
};

const blotched = (part: PartScene, optics: readonly OpticsTrouble[], look: TroubledMoment): PartScene => {
  if (part.kind !== "travel" && part.kind !== "wheel") return part;
  const own = optics.filter(({ patchy }) => patchy?.function === part.function);
  if (own.length === 0) return part;
  return { ...part, patchy: Math.max(0, ...own.map(({ patchy }) => patchy?.how(look) ?? 0)) };
};

const fanOf = (air: readonly AirTrouble[], moment: FrameMoment): Scene["fan"] => {
  const fans = air.map(({ fan }) => fan(moment));
  return {
    loud: Math.max(0, ...fans.map(({ loud }) => loud)),
    tick: Math.max(0, ...fans.map(({ tick }) => tick)),
    turning: fans.every(({ turning }) => turning),
  };
};

const EMITTERS: Readonly<Partial<Record<FunctionId, readonly [number, number, number]>>> = {
  ColorAdd_R: [1, 0, 0],
  ColorAdd_G: [0, 1, 0],
  ColorAdd_B: [0, 0, 1],
  ColorAdd_W: [1, 1, 1],
};

interface Glass {
  readonly parts: readonly PartScene[];
  readonly builds: readonly PartBuild[];
  /** Light of the source, 0 to 1. */
  readonly source: number;
  readonly spoils: Spoils;
  readonly sources: readonly SourceTrouble[];
}

/** What reaches the wall: the source through everything that stands in its way. */
const pictureOf = (glass: Glass): Picture => {
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
const spoilsOf = (optics: readonly OpticsTrouble[], look: TroubledMoment): Spoils => {
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
const CLEAR: Spoils = { dim: 0, tint: 0, veil: 0, shadow: 0, oval: 0, leak: 0, wobble: 0, soft: 0 };

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
