import type { Seconds } from "../../domain/units.ts";
import type { Stamped } from "./input.ts";
import { andThen, type Changed, type Running, type SharedEffect, uncleared } from "./running.ts";
import { STAGES } from "./stages.ts";

type StoodStill = Extract<Stamped, { readonly kind: "stood-still" }>;

/** How a run halts what moves, and what it keeps of work by hand. */
export interface Halting<State extends Running, Wanted> {
  readonly halt: (doubtful: State, input: StoodStill, words: string) => Changed<State, Wanted>;
  readonly byHand: (state: State, time: Seconds) => State;
}

/**
 * Makes a run wait when nothing was sent for a second or more. What moved does not jump on to where it would be by now: it
 * stands dark, and its step starts again after the hold point, since nobody knows what went on meanwhile.
 */
export const stoodStill = <State extends Running, Wanted>(
  state: State,
  input: StoodStill,
  { halt, byHand }: Halting<State, Wanted | SharedEffect>,
): Changed<State, Wanted | SharedEffect> => {
  const words = `The computer stood still for ${Math.round(input.time)} s; no key was heard meanwhile.`;
  switch (STAGES[state.stage.kind].standstill) {
    case "nothing":
    case "its own":
      return [state, []];
    case "by hand":
      return [byHand(state, input.time), []];
    case "doubt":
      return [doubtful(state, words), []];
    case "halt":
      return andThen(halt(doubtful(state, words), input, words), (s) => [s, [{ kind: "say", words }]]);
  }
};

const doubtful = <State extends Running>(state: State, words: string): State => ({
  ...uncleared(state),
  trouble: words,
});

/** "The DMX line", or which of several. */
const lineName = (universe: number | undefined): string =>
  universe === undefined ? "The DMX line" : `The DMX line of universe ${universe}`;

/**
 * Makes a run wait in `stage` when a line that somebody needs is gone, dark as far as that can be
 * sent. `universe` is its number, from 1.
 */
export const cutOff = <State extends Running>(
  state: State,
  stage: State["stage"],
  { words, universe }: { readonly words: string; readonly universe?: number },
): Changed<State, SharedEffect> => [
  { ...uncleared(state), trouble: words, stage },
  [{ kind: "go-dark" }, { kind: "say", words: `${lineName(universe)} is lost. ${words}` }],
];

/**
 * Notes that the line can be used again; whoever is there has to agree before anything
 * moves. `universe` is its number, from 1.
 */
export const lineBack = <State extends Running>(
  state: State,
  stage: State["stage"],
  universe?: number,
): Changed<State, SharedEffect> => [
  { ...state, stage: { ...stage, back: true } },
  [{ kind: "go-dark" }, { kind: "say", words: `${lineName(universe)} is back. It goes on when you agree.` }],
];
