import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import type { FixtureBuild } from "./build.ts";
import type { Source } from "./lamp.ts";
import type { FrameMoment } from "./moment.ts";
import { CLEAR, pictureOf, spoilsOf } from "./picture.ts";
import type { Receiver } from "./receiver.ts";
import type { PartScene, Scene } from "./scene.ts";
import type { AirTrouble, OpticsTrouble, PartTrouble, SourceTrouble, TroubledMoment } from "./trouble.ts";

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
