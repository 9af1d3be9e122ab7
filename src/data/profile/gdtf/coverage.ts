import { fateOf } from "./attributes.ts";
import type { ChannelClaim, ChannelClaims } from "./claims.ts";
import type { Channel, Mode } from "./description.ts";
import { highest } from "./reading.ts";
import { type Drafted, goesDark, MOST_CELLS } from "./travel.ts";

/** Slots that no function moves, the value they are kept at, and why. */
export interface Holding {
  readonly slots: readonly number[];
  readonly at: number;
  /** The attribute, as the file spells it. */
  readonly is: string;
  readonly why: string;
}

/** A claim that became a function. */
export interface Made {
  readonly claim: ChannelClaim;
  readonly draft: Drafted;
}

/** What became of the slots of a mode: all are one or the other. */
export interface Coverage {
  readonly slots: number;
  readonly driven: number;
  readonly held: number;
  /** Reasons of what is held, most slots first. */
  readonly why: readonly (readonly [why: string, slots: number])[];
}

/**
 * How many slots of a mode are driven by a function and how many are held, with the
 * reasons for holding, the commonest first.
 */
export const coverageOf = (mode: Mode, made: readonly Made[], holdings: readonly Holding[]): Coverage => {
  const held = new Set(holdings.flatMap(({ slots }) => slots));
  const why = new Map<string, number>();
  for (const { slots, why: reason } of holdings) why.set(reason, (why.get(reason) ?? 0) + slots.length);
  return {
    slots: mode.slots,
    driven: new Set(made.flatMap((one) => slotsOf(one))).size,
    held: held.size,
    why: [...why].toSorted(([, a], [, b]) => b - a),
  };
};

const slotsOf = ({ claim, draft: { spec } }: Made): readonly number[] => [...spec.slots, ...cellSlots(claim, spec)];

/**
 * What no function moves keeps its default, or the value under which a chosen function holds at all. What makes light is
 * kept dark: nothing would put it out. `refused` says of each channel that gave no function why it gave none.
 */
export const holdingsOf = (
  mode: Mode,
  { claims, left }: ChannelClaims,
  made: readonly Made[],
  refused: ReadonlyMap<Channel, string>,
): readonly Holding[] => {
  const moved = new Set(made.flatMap((one) => slotsOf(one)));
  const goesOut = made.some(({ claim }) => goesDark(claim.id));
  const own = mode.channels
    .filter((channel) => channel.break === mode.break)
    .flatMap((channel): readonly Holding[] => {
      const free = channel.slots.filter((slot) => !moved.has(slot));
      if (free.length === 0) return [];
      const driven = made.find(({ claim }) => claim.channel === channel);
      if (driven) return [{ slots: free, at: 0, is: `fine of ${driven.claim.id}`, why: "driven by its coarse slot" }];
      const is = channel.functions[0]?.attribute ?? channel.name;
      const why = refused.get(channel) ?? left.find((one) => one.channel.at === channel.at)?.why ?? fateWords(is);
      return [{ slots: channel.slots, at: heldAt(channel, claims, goesOut), is, why }];
    });
  return [...own, ...gapsIn(mode, new Set([...moved, ...own.flatMap(({ slots }) => slots)]))];
};

/** Slots between the others that no channel of the file has, at most four to a line as a profile writes them. */
const gapsIn = ({ slots }: Mode, taken: ReadonlySet<number>): readonly Holding[] => {
  const free = Array.from({ length: slots }, (_, n) => n + 1).filter((slot) => !taken.has(slot));
  return Array.from({ length: Math.ceil(free.length / 4) }, (_, n) => ({
    slots: free.slice(4 * n, 4 * n + 4),
    at: 0,
    is: "nothing",
    why: "no channel of the file has it",
  }));
};

const cellSlots = ({ copies }: ChannelClaim, spec: Drafted["spec"]): readonly number[] =>
  "cells" in spec ? copies.slice(0, MOST_CELLS).flatMap(({ slots }) => slots) : [];

const fateWords = (attribute: string): string => {
  const fate = fateOf(attribute);
  return fate.kind === "drives" ? `Limber drives another ${fate.id}` : fate.why;
};

const heldAt = (channel: Channel, claims: readonly ChannelClaim[], goesOut: boolean): number => {
  const { name, initial, functions, slots } = channel;
  const wanted = claims.find(({ condition }) => condition?.master === name)?.condition;
  if (wanted && (initial < wanted.from || initial > wanted.to)) return wanted.from;
  const light = functions.find(({ attribute }) => makesLight(attribute));
  if (light === undefined) return initial;
  const shutter = fateOf(light.attribute).kind === "drives" && !goesDark(fateId(light.attribute));
  // A second shutter stays where the file has it while a dimmer or emitters put the light out.
  if (shutter) return goesOut ? initial : 0;
  const falls = light.physical[0] > light.physical[1];
  return falls ? Math.min(light.to, highest(slots.length)) : light.from;
};

const fateId = (attribute: string) => {
  const fate = fateOf(attribute);
  return fate.kind === "drives" ? fate.id : "Dimmer";
};

const makesLight = (attribute: string): boolean => {
  const fate = fateOf(attribute);
  return fate.kind === "kept dark" || (fate.kind === "drives" && (goesDark(fate.id) || fate.id === "Shutter1"));
};
