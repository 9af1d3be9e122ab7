import type { FunctionId } from "../../domain/trade/functions.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Keen } from "./eye.ts";

/** One place where both came to rest: how far off, from which side (0 unknown), where, and how the head stood. */
export interface Rest {
  readonly off: number;
  readonly way: number;
  readonly place: number;
  readonly upright: number;
}

interface RestJudge {
  readonly keen: Keen;
  readonly kind: "ends" | "wheel" | "turn" | "leaf";
  /** Distance of neighbouring places on a wheel. */
  readonly pitch: number;
  /** The same function at rest in earlier steps. */
  readonly known: readonly Rest[];
}

/** Places so near each other count as the same place visited again. */
const SAME_PLACE = 0.004;
/** How much further up or down the lens must point before gravity pulls differently. */
const TIPPED = 0.5;

/**
 * Whether this rest looks wrong at once. Nobody can say where a dot should be to a degree, only that it was elsewhere
 * when it stood here before.
 */
export const looksWrong = (rest: Rest, before: readonly Rest[], keen: Keen): boolean => {
  const first = before.find(({ place }) => Math.abs(place - rest.place) < SAME_PLACE);
  return Math.abs(rest.off) > keen.gross || (first !== undefined && Math.abs(rest.off - first.off) > keen.place);
};

/** What the rests of a step amount to, when one thinks back. */
export const judgeRests = (rests: readonly Rest[], judge: RestJudge): readonly SymptomId[] => {
  if (rests.length === 0) return [];
  if (judge.kind === "wheel") return onWheel(rests, judge);
  const far = judge.kind === "ends" ? atEnds(rests, judge) : [];
  if (far.length > 0) return far;
  const changed = changes(rests, judge);
  // Where it stood when the step began is the step before's business, unless nothing moved since.
  const own = rests.filter(({ way }) => way !== 0);
  const gross = (own.length > 0 ? own : rests).some(({ off }) => Math.abs(off) > judge.keen.gross);
  return changed.length > 0 ? changed : gross ? ["wrong-place"] : [];
};

const onWheel = (rests: readonly Rest[], { keen, pitch, known }: RestJudge): readonly SymptomId[] => {
  const bad = rests.filter(({ off }) => Math.abs(off) > keen.place);
  if (bad.length === 0) return [];
  const whole = bad.some(({ off }) => Math.abs(off) > pitch * 0.5);
  const half = bad.some(({ off }) => Math.abs(off) <= pitch * 0.5);
  const wasRight = [...known.slice(-1), ...rests.slice(0, 1)].some(({ off }) => Math.abs(off) <= keen.place);
  return [
    ...(whole ? (["wrong-item"] as const) : []),
    ...(half ? (["between-two"] as const) : []),
    ...(wasRight ? (["moved-after"] as const) : []),
  ];
};

/** Moves that ended inside of where they should have. */
const atEnds = (rests: readonly Rest[], { keen }: RestJudge): readonly SymptomId[] => {
  const bad = rests.filter(({ off, way }) => way !== 0 && Math.abs(off) > keen.gross);
  const low = bad.filter(({ place, off }) => place < 0.35 && off > 0);
  const high = bad.filter(({ place, off }) => place > 0.65 && off < 0);
  if (low.length > 0 && high.length > 0) return ["short-range"];
  const ends = bad.every(({ place }) => place < 0.04 || place > 0.96);
  return ends && (low.length > 0 || high.length > 0) ? ["stops-short"] : [];
};

/** Compares visits to the same place: from both sides, with the head tipped otherwise, now and before. */
const changes = (rests: readonly Rest[], { keen, known }: RestJudge): readonly SymptomId[] => {
  const symptoms = rests.flatMap((rest) => {
    const visits = [...known, ...rests].filter(({ place }) => Math.abs(place - rest.place) < SAME_PLACE);
    const others = visits.filter(({ off }) => Math.abs(off - rest.off) > keen.place);
    if (others.length === 0) return [];
    if (others.every(({ upright }) => Math.abs(upright - rest.upright) > TIPPED)) return ["tilt-matters"] as const;
    return bySide(visits, keen) ? (["side-differs"] as const) : (["moved-after"] as const);
  });
  return [...new Set(symptoms)];
};

/** Each side by itself agrees with itself, and not with the other. */
const bySide = (visits: readonly Rest[], keen: Keen): boolean => {
  const up = visits.filter(({ way }) => way > 0).map(({ off }) => off);
  const down = visits.filter(({ way }) => way < 0).map(({ off }) => off);
  return up.length > 0 && down.length > 0 && spread(up) <= keen.place && spread(down) <= keen.place;
};

const spread = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

/** How many places a person keeps in mind. */
const REMEMBERS = 24;

/** What the observer remembers from step to step: where parts came to rest, which were seen to work well. */
export class Memory {
  private readonly places = new Map<FunctionId, readonly Rest[]>();
  private readonly clean = new Set<FunctionId>();

  /** Where a part came to rest in earlier steps, the oldest first. */
  rests(id: FunctionId): readonly Rest[] {
    return this.places.get(id) ?? [];
  }

  /** Remembers where a part came to rest; the oldest places are forgotten. */
  keep(id: FunctionId, rests: readonly Rest[]): void {
    this.places.set(id, [...this.rests(id), ...rests].slice(-REMEMBERS));
  }

  /** Remembers that the function worked well with the head turned to the front. */
  workedWell(id: FunctionId): void {
    this.clean.add(id);
  }

  /** Whether the function was seen to work well with the head turned to the front. */
  hasWorkedWell(id: FunctionId): boolean {
    return this.clean.has(id);
  }
}
