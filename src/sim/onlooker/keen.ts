import type { PartScene } from "../scene.ts";

/** What the eye can just tell, in the measure of the part. */
export interface Keen {
  /** A difference of place at rest. */
  readonly place: number;
  /** Movement at all, per second. */
  readonly speed: number;
}

/** A dot on the wall shows a third of a degree; the bare body of the fixture only a few degrees. */
const DOT_DEG = 0.45;
const BODY_DEG = 2.5;
const DOT_DEG_S = 3;
const BODY_DEG_S = 6;
const PLACES: Readonly<Record<string, number>> = { Focus1: 0.02, Zoom: 0.03, Iris: 0.04 };
const FLAG = 0.06;

export const isAxis = ({ function: id }: PartScene): boolean => id === "Pan" || id === "Tilt";

export const keenOn = (part: PartScene, light: "lit" | "dark"): Keen => {
  if (part.kind === "wheel") return { place: 0.12 / part.places, speed: 0.3 / part.places };
  if (part.kind === "turn") return { place: 5 / 360, speed: 0.006 };
  if (part.kind === "leaf") return { place: 0.12, speed: 0.3 };
  if (part.kind === "travel" && isAxis(part)) {
    const lit = light === "lit";
    return { place: (lit ? DOT_DEG : BODY_DEG) / part.span, speed: (lit ? DOT_DEG_S : BODY_DEG_S) / part.span };
  }
  const flag = part.function.startsWith("ColorSub") || part.function === "CTO";
  return { place: flag ? FLAG : (PLACES[part.function] ?? 0.03), speed: 0.04 };
};
