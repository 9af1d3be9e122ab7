import type { Seconds } from "../../domain/units.ts";
import type { StageKind } from "./stages.ts";

/** What a run of one fixture and a run of many have alike: all that this room reads and changes of either. */
export interface Running {
  readonly person: string;
  readonly stage: { readonly kind: StageKind };
  /** The time of the last input, on the run's clock. */
  readonly now: Seconds;
  /** Every sign of life since the group began; silence between two of them longer than a minute is not watching. */
  readonly signs: readonly Seconds[];
  /** The safety page was answered, and the slow movement shown, since somebody may last have been at a fixture. */
  readonly cleared: boolean;
  readonly slowShown: boolean;
  /** Said plainly on the screen until the person has seen it. */
  readonly trouble: string | undefined;
}

/** What a run of any size asks of the world in the same words. */
export type SharedEffect =
  /** Dark, and every axis holds where it was last commanded to stand: the one way in which anything ends or waits. */
  { readonly kind: "go-dark" } | { readonly kind: "say"; readonly words: string } | { readonly kind: "end" };

export type HowEnded = "finished" | "stopped" | "failed";

/** The next state of whatever goes on by inputs, and what it wants of the world, in order. */
export type Changed<State, Wanted> = readonly [State, readonly Wanted[]];

/** A change that changes nothing and asks nothing of the world. */
export const stay = <State>(state: State): Changed<State, never> => [state, []];

/** A state, and what it asks of the world, in order. */
export const withEffects = <State, Wanted>(state: State, ...effects: readonly Wanted[]): Changed<State, Wanted> => [
  state,
  effects,
];

/** One change after another, of a fixture's run or of a rack's; the effects of both, in order. */
export const andThen = <State, Wanted>(
  [state, effects]: Changed<State, Wanted>,
  next: (state: State) => Changed<State, Wanted>,
): Changed<State, Wanted> => {
  const [after, more] = next(state);
  return [after, [...effects, ...more]];
};

/** The run, of which nobody has said any more that the area is clear: that is asked before anything moves again. */
export const uncleared = <State extends Running>(state: State): State => ({
  ...state,
  cleared: false,
  slowShown: false,
});

/** Goes to the end: dark where it stands while that can be sent, then what `close` writes, then nothing more. */
export const ended = <State extends Running, Wanted>(
  state: State,
  how: HowEnded,
  close: (state: State) => Changed<State, Wanted>,
): Changed<State, Wanted | SharedEffect> =>
  andThen<State, Wanted | SharedEffect>([state, [{ kind: "go-dark" }]], (dark) =>
    andThen<State, Wanted | SharedEffect>(close(dark), (closed) => [over(closed, how), [{ kind: "end" }]]),
  );

/** The run at its end; nothing goes on from there. */
export const over = <State extends Running>(state: State, how: HowEnded): State => ({
  ...state,
  stage: { kind: "finished", how },
});

/** The run of which at least `count` events are on disk, counted from 0; answers may come out of order. */
export const storedUpTo = <State extends { readonly stored: number }>(state: State, count: number): State => ({
  ...state,
  stored: Math.max(state.stored, count),
});
