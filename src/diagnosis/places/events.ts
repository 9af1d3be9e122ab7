import { physicalOf } from "../../data/profile/profile.ts";
import type { Seconds } from "../../domain/units.ts";
import { crossingOf, type Pass, type TravelWay } from "./pass.ts";
import type { Pattern } from "./pattern.ts";
import type { Watch } from "./watch.ts";

/** When a place is commanded to be crossed, both ways or one. */
export const crossingsOf = ({ passes }: Watch, place: number, way?: TravelWay): readonly Seconds[] =>
  passes.flatMap((pass) => (way === undefined || pass.way === way ? (crossingOf(pass, place) ?? []) : []));

/** When the fixture comes to where a pattern of ends or turn-rounds expects something: each arrival once. */
export const arrivalsOf = (watch: Watch, { kind }: Pattern): readonly Seconds[] =>
  watch.passes.filter((pass) => EXPECTS[kind]?.(watch, pass) ?? false).map(({ end }) => end);

const EXPECTS: Readonly<Partial<Record<Pattern["kind"], (watch: Watch, pass: Pass) => boolean>>> = {
  "low-end": (watch, pass) => isAt(watch, pass, "low"),
  "high-end": (watch, pass) => isAt(watch, pass, "high"),
  "both-ends": (watch, pass) => isAt(watch, pass, "low") || isAt(watch, pass, "high"),
  "turn-rounds": () => true,
};

/** Within half a percent of the travel. */
const isAt = ({ travel }: Watch, { to }: Pass, end: "low" | "high"): boolean => {
  const at = physicalOf(travel, end === "low" ? travel.low : travel.high);
  return Math.abs(to - at) <= 0.005 * Math.abs(travel.to - travel.from);
};
