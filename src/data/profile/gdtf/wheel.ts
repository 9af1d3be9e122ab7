import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import type { FunctionFile } from "../schema.ts";
import type { Claim } from "./claims.ts";
import type { ChannelSet, Condition, WheelSlot } from "./description.ts";
import { type Drafted, type NotDrafted, rounded } from "./drafted.ts";
import { coarseOf } from "./levels.ts";

type Position = Extract<FunctionFile, { positions: unknown }>["positions"][number];

export interface WheelOrder {
  readonly kind: WheelKind;
  readonly wheels: ReadonlyMap<string, readonly WheelSlot[]>;
  /** What other channels ask of this one: only positions inside can be used, and the open one. */
  readonly needed: readonly Condition[];
}

/** A wheel with its positions: a level where each begins, and the name of what stands there. */
export const wheelFrom = ({ channel, parts }: Claim, { kind, wheels, needed }: WheelOrder): Drafted | NotDrafted => {
  const bytes = channel.slots.length;
  const sets = parts.flatMap((part) => part.sets.map((set) => ({ set, wheel: part.wheel })));
  const found = sets.flatMap(({ set, wheel }): readonly Found[] => {
    const stretch = coarseOf(set, bytes);
    const is = wheel === undefined ? set.name : nameOf(set, wheels.get(wheel));
    return stretch && is ? [{ at: stretch.from, is, slot: set.wheelSlot, raw: set.from }] : [];
  });
  const usable = found.filter((one) => isOpen(one) || needed.every(({ from, to }) => one.raw >= from && one.raw <= to));
  const once = usable.toSorted((a, b) => a.at - b.at).filter(isFirst);
  const positions = named(once);
  const [coarse] = channel.slots;
  if (positions.length < 2 || coarse === undefined)
    return { why: `it has ${positions.length} positions that can be told apart` };
  const fade = Math.max(...parts.map((part) => part.fade));
  const step_s = fade > 0 ? rounded(fade / (positions.length - 1)) : USUAL_STEP_S;
  return {
    spec: { slots: [coarse], wheel: kind, step_s, positions: [...positions] },
    remarks: [
      ...(fade > 0 ? ["step time from RealFade over all positions"] : []),
      ...leftOut("what turns on it does not hold there", found.length - usable.length),
      ...leftOut("they repeat a slot", usable.length - once.length),
      ...leftOut("they show no slot of the wheel", sets.length - found.length),
    ],
    measure: fade > 0 ? [] : ["step_s"],
  };
};

/** Common practice, no source. */
const USUAL_STEP_S = 0.15;

const leftOut = (why: string, count: number): readonly string[] =>
  count > 0 ? [`${count} ${count === 1 ? "set" : "sets"} left out: ${why}`] : [];

interface Found {
  readonly at: number;
  readonly is: string;
  readonly slot: number | undefined;
  readonly raw: number;
}

/** A slot index counts from 1; a set without one shows no slot of the wheel. */
const nameOf = (set: ChannelSet, slots: readonly WheelSlot[] | undefined): string | undefined =>
  set.wheelSlot === undefined ? undefined : slots?.[set.wheelSlot - 1]?.name || set.name || `slot ${set.wheelSlot}`;

const isFirst = (one: Found, index: number, all: readonly Found[]): boolean =>
  all.findIndex((other) => other.at === one.at || (one.slot !== undefined && other.slot === one.slot)) === index;

const isOpen = ({ is }: Pick<Found, "is">): boolean => /^(open|empty|white|no )/i.test(is);

/** One is called "open", and no two alike. */
const named = (found: readonly Found[]): readonly Position[] => {
  const open = found.find(isOpen) ?? found.find(({ slot }) => slot === 1);
  return found.map((one, n) => {
    const is = one === open ? "open" : one.is;
    const alike = found.slice(0, n).filter((other) => other.is.toLowerCase() === one.is.toLowerCase()).length;
    return { at: one.at, is: alike > 0 ? `${is} ${alike + 1}` : is };
  });
};
