import { nameTrouble, writtenName } from "../../domain/problem/identity.ts";
import type { Seconds } from "../../domain/units.ts";
import { andThen, type Changed, type Running, type SharedEffect, uncleared } from "./running.ts";
import { STAGES } from "./stages.ts";

/**
 * Nothing was sent for a second or more, or nobody could have stopped anything, `time` in seconds. What moved does not jump on to where it would be by now: it
 * stands dark, and its step starts again after the safety point, since nobody knows what went on meanwhile. How a run halts,
 * and what it holds on to by hand, it says itself.
 */
export const stoodStill = <State extends Running, Wanted>(
  state: State,
  time: Seconds,
  own: {
    readonly halt: (doubtful: State, words: string) => Changed<State, Wanted>;
    readonly byHand: (state: State) => State;
  },
): Changed<State, Wanted | SharedEffect> => {
  const words = `The computer stood still for ${Math.round(time)} s; no key was heard meanwhile.`;
  switch (STAGES[state.stage.kind].standstill) {
    case "nothing":
      return [state, []];
    case "by hand":
      return [own.byHand(state), []];
    case "doubt":
      return [doubtful(state, words), []];
    case "halt":
      return andThen<State, Wanted | SharedEffect>(own.halt(doubtful(state, words), words), (s) => [
        s,
        [{ kind: "say", words }],
      ]);
  }
};

const doubtful = <State extends Running>(state: State, words: string): State => ({
  ...uncleared(state),
  trouble: words,
});

/** "The DMX line", or which of several. */
const lineName = (universe: number | undefined): string =>
  universe === undefined ? "The DMX line" : `The DMX line of universe ${universe}`;

/** A line that somebody hangs on is gone: the run waits in `stage`, dark as far as that can be sent. */
export const cutOff = <State extends Running>(
  state: State,
  stage: State["stage"],
  { words, universe }: { readonly words: string; readonly universe?: number },
): Changed<State, SharedEffect> => [
  { ...uncleared(state), trouble: words, stage },
  [{ kind: "go-dark" }, { kind: "say", words: `${lineName(universe)} is lost. ${words}` }],
];

/** The line can be used again; whoever is there has to agree before anything moves. */
export const lineBack = <State extends Running>(
  state: State,
  stage: State["stage"],
  universe?: number,
): Changed<State, SharedEffect> => [
  { ...state, stage: { ...stage, back: true } },
  [{ kind: "go-dark" }, { kind: "say", words: `${lineName(universe)} is back. It goes on when you agree.` }],
];

/** Two spellings of one person's initials are one person; what nobody could read is taken from nobody. */
export const named = <State extends Running>(state: State, initials: string): State => {
  const trouble = nameTrouble(initials);
  return trouble === undefined
    ? { ...state, person: writtenName(initials) }
    : { ...state, trouble: `"${initials}" cannot be used: it ${trouble}.` };
};

/** What is said of the run is shown until something else is. */
export const troubled = <State extends Running>(state: State, words: string): State => ({
  ...state,
  trouble: state.trouble ?? words,
});

/** So many events of a run are on disk; answers may come out of order. */
export const storedUpTo = <State extends { readonly stored: number }>(state: State, count: number): State => ({
  ...state,
  stored: Math.max(state.stored, count),
});
