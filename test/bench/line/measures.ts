import { FRAME_SECONDS, FRAMES_PER_SECOND } from "../../../src/domain/units.ts";
import type { Arrival } from "./talk.ts";

const FRAME_MS = FRAME_SECONDS * 1000;

/** A packet with its place on the grid: the number it should have, by its own count or by the order of arrival. */
export interface Placed {
  readonly at: number;
  readonly number: number;
}

/**
 * Those of the first so many seconds, counted from where the most punctual packet of the first second puts the grid, and
 * half a frame early, so that one packet a little off its time does not move the window.
 */
export const within = (arrivals: readonly Arrival[], seconds: number): readonly Arrival[] => {
  const starts = arrivals.slice(0, FRAMES_PER_SECOND).map(({ at }, index) => at - index * FRAME_MS);
  const begin = Math.min(...starts) - FRAME_MS / 2;
  return arrivals.filter(({ at }) => at < begin + seconds * 1000);
};

export const byOrder = (arrivals: readonly Arrival[]): readonly Placed[] =>
  arrivals.map(({ at }, number) => ({ at, number }));

/** Ours carry their number in slots 5 and 6. */
export const byOwnCount = (arrivals: readonly Arrival[]): readonly Placed[] =>
  arrivals.map(({ at, slots }) => ({ at, number: (slots[4] ?? 0) * 256 + (slots[5] ?? 0) }));

/** Packets a second, from first to last. */
export const rate = (placed: readonly Placed[]): number =>
  ((placed.length - 1) * 1000) / ((placed.at(-1)?.at ?? 0) - (placed[0]?.at ?? 0));

/** Against 40 a second. */
export const missing = (placed: readonly Placed[], seconds: number): number =>
  FRAMES_PER_SECOND * seconds - placed.length;

/** In ms, against a grid of exactly 25 ms laid through the most punctual packet. */
export const lateness = (placed: readonly Placed[]): readonly number[] => {
  const offsets = placed.map(({ at, number }) => at - number * FRAME_MS);
  const best = offsets.reduce((least, offset) => Math.min(least, offset), Number.POSITIVE_INFINITY);
  return offsets.map((offset) => offset - best);
};

/** In ms a minute: how far the grid of the last tenth stands from that of the first; the punctual packets of each show it. */
export const drift = (placed: readonly Placed[]): number => {
  const late = lateness(placed);
  const tenth = Math.ceil(placed.length / 10);
  const minutes = ((placed.length - tenth) * FRAME_MS) / 60_000;
  return (quantile(late.slice(-tenth), 0.1) - quantile(late.slice(0, tenth), 0.1)) / minutes;
};

/** In ms: how far each gap between two packets is from 25 ms. Blind to drift, so kind to a timer that drifts evenly. */
export const unevenness = (placed: readonly Placed[]): readonly number[] =>
  placed.slice(1).map(({ at }, index) => Math.abs(at - (placed[index]?.at ?? at) - FRAME_MS));

/** Nearest rank. */
export const quantile = (values: readonly number[], share: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
};

/** Different 16-bit values seen in two slots, the coarse one first. */
export const distinct = (arrivals: readonly Arrival[], coarse: number): number =>
  new Set(arrivals.map(({ slots }) => (slots[coarse - 1] ?? 0) * 256 + (slots[coarse] ?? 0))).size;
