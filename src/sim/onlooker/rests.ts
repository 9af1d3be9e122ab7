import type { SymptomId } from "../../trade/symptoms.ts";

/** One place where both came to rest: how far off, from which side, where. */
export interface Rest {
  readonly off: number;
  readonly way: number;
  readonly place: number;
  readonly upright: number;
}

export interface RestJudge {
  /** What the eye can just tell. */
  readonly keen: number;
  readonly kind: "ends" | "wheel" | "turn" | "leaf";
  /** Distance of neighbouring places on a wheel. */
  readonly pitch: number;
  /** How the same function was last seen before this step. */
  readonly before: "right" | "unknown";
}

/** What the rests of a step amount to, when one thinks back. */
export const judgeRests = (rests: readonly Rest[], judge: RestJudge): readonly SymptomId[] => {
  const bad = rests.filter(({ off }) => Math.abs(off) > judge.keen);
  if (bad.length === 0) return [];
  if (judge.kind === "wheel") return onWheel(rests, bad, judge);
  if (judge.kind === "ends") return betweenEnds(rests, bad, judge);
  return sidesDiffer(rests, judge) ? ["side-differs"] : ["wrong-place"];
};

const onWheel = (rests: readonly Rest[], bad: readonly Rest[], judge: RestJudge): readonly SymptomId[] => {
  const whole = bad.some(({ off }) => Math.abs(off) > judge.pitch * 0.5);
  const half = bad.some(({ off }) => Math.abs(off) <= judge.pitch * 0.5);
  const moved = judge.before === "right" || Math.abs(rests[0]?.off ?? 0) <= judge.keen;
  return [
    ...(whole ? (["wrong-item"] as const) : []),
    ...(half ? (["between-two"] as const) : []),
    ...(moved ? (["moved-after"] as const) : []),
  ];
};

const betweenEnds = (rests: readonly Rest[], bad: readonly Rest[], judge: RestJudge): readonly SymptomId[] => {
  const low = bad.filter(({ place, off }) => place < 0.35 && off > 0.03);
  const high = bad.filter(({ place, off }) => place > 0.65 && off < -0.03);
  if (low.length > 0 && high.length > 0) return ["short-range"];
  const atEnds = bad.every(({ place }) => place < 0.04 || place > 0.96);
  if (atEnds && (low.length > 0 || high.length > 0)) return ["stops-short"];
  if (tiltMatters(rests, judge)) return ["tilt-matters"];
  if (sidesDiffer(rests, judge)) return ["side-differs"];
  const first = Math.abs(rests[0]?.off ?? 0) <= judge.keen;
  return first || judge.before === "right" ? ["moved-after"] : ["wrong-place"];
};

/** From one side it stops here, from the other there, each time alike. */
const sidesDiffer = (rests: readonly Rest[], { keen }: RestJudge): boolean => {
  const up = rests.filter(({ way }) => way > 0).map(({ off }) => off);
  const down = rests.filter(({ way }) => way < 0).map(({ off }) => off);
  if (up.length === 0 || down.length === 0 || up.length + down.length < 3) return false;
  const apart = Math.abs(mean(up) - mean(down));
  return apart > keen && apart > 2 * Math.max(spread(up), spread(down));
};

const tiltMatters = (rests: readonly Rest[], { keen }: RestJudge): boolean => {
  const up = rests.filter(({ upright }) => upright > 0.6).map(({ off }) => off);
  const rest = rests.filter(({ upright }) => upright < 0.2).map(({ off }) => off);
  if (up.length === 0 || rest.length === 0) return false;
  return Math.abs(mean(up) - mean(rest)) > keen;
};

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const spread = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
