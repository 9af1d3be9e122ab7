import type { PartScene } from "../scene.ts";

/** What the eye can just tell, in the measure of the part. */
export interface Keen {
  /** That it stands elsewhere than before. */
  readonly place: number;
  /** That it stands wrong although one has not seen it stand right. */
  readonly gross: number;
  /** Movement at all, per second. */
  readonly speed: number;
}

/** A dot on the wall shows half a degree; the bare body of the fixture only a few degrees. */
const DOT = { place: 0.45, gross: 4, speed: 3 };
const BODY = { place: 2.5, gross: 8, speed: 6 };
const PLACES: Readonly<Record<string, number>> = { Focus1: 0.02, Zoom: 0.03, Iris: 0.04 };
const FLAG = 0.06;

/** Whether the part is pan or tilt. */
export const isAxis = ({ function: id }: { readonly function: string }): boolean => id === "Pan" || id === "Tilt";

/** What the eye can just tell of a part, in the part's own measure; without light only the body of the fixture shows. */
export const keenOn = (part: PartScene, light: "lit" | "dark"): Keen => {
  if (part.kind === "wheel") return { place: 0.12 / part.places, gross: 0.12 / part.places, speed: 0.3 / part.places };
  if (part.kind === "turn") return { place: 5 / 360, gross: 8 / 360, speed: 0.006 };
  if (part.kind === "leaf") return { place: 0.12, gross: 0.12, speed: 0.3 };
  if (part.kind === "travel" && isAxis(part)) return perDegree(light === "lit" ? DOT : BODY, part.span);
  const flag = part.function.startsWith("ColorSub") || part.function === "CTO";
  const place = flag ? FLAG : (PLACES[part.function] ?? 0.03);
  return { place, gross: 2.5 * place, speed: 0.04 };
};

const perDegree = ({ place, gross, speed }: Keen, span: number): Keen => ({
  place: place / span,
  gross: gross / span,
  speed: speed / span,
});
