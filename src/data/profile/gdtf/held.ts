import type { Claim, Claims } from "./claims.ts";
import type { Channel, Mode } from "./description.ts";
import type { Drafted } from "./drafted.ts";
import { MOST_CELLS } from "./travel.ts";

/** Slots that no function moves, and the value they are kept at. */
export interface Holding {
  readonly slots: readonly number[];
  readonly at: number;
  readonly is: string;
}

/** A claim that became a function. */
export interface Made {
  readonly claim: Claim;
  readonly draft: Drafted;
}

/** What no function moves keeps its default, or the value under which a chosen function holds at all. */
export const holdingsOf = (mode: Mode, { claims }: Claims, made: readonly Made[]): readonly Holding[] => {
  const moved = new Set(made.flatMap(({ claim, draft }) => [...draft.spec.slots, ...cellSlots(claim, draft)]));
  return mode.channels
    .filter((channel) => channel.break === mode.break)
    .flatMap((channel): readonly Holding[] => {
      if (channel.slots.length === 0 || channel.slots.every((slot) => moved.has(slot))) return [];
      const driven = made.find(({ claim }) => claim.channel === channel);
      if (driven) return [{ slots: channel.slots.slice(1), at: 0, is: `fine slots of ${driven.claim.id}` }];
      return [
        { slots: channel.slots, at: heldAt(channel, claims), is: channel.functions[0]?.attribute ?? channel.name },
      ];
    });
};

const cellSlots = ({ copies }: Claim, { spec }: Drafted): readonly number[] =>
  "cells" in spec ? copies.slice(0, MOST_CELLS).flatMap(({ slots }) => slots) : [];

const heldAt = ({ name, initial }: Channel, claims: readonly Claim[]): number => {
  const wanted = claims.find(({ condition }) => condition?.master === name)?.condition;
  return wanted && (initial < wanted.from || initial > wanted.to) ? wanted.from : initial;
};
