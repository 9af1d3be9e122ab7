import type { Seconds } from "../../domain/units.ts";
import type { StageKind } from "./stages.ts";

/** What a run of one fixture and a run of many have alike: all that this room reads and changes of either. */
export interface Running {
  readonly person: string;
  readonly stage: { readonly kind: StageKind };
  /** On the run's clock: of the last input. */
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
  /** Dark, and every axis holds where it was last told to stand: the one way in which anything ends or waits. */
  { readonly kind: "go-dark" } | { readonly kind: "say"; readonly words: string } | { readonly kind: "end" };

export type HowEnded = "finished" | "stopped" | "failed";

/** The next state of whatever goes on by inputs, and what it wants of the world, in order. */
export type Changed<State, Wanted> = readonly [State, readonly Wanted[]];

/** The same state, and nothing is wanted. */
export const stay = <State>(state: State): Changed<State, never> => [state, []];

/** A state, and what it wants of the world, in order. */
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

/** The same run, of which nobody has said that the area is clear: before anything moves again that is asked. */
export const uncleared = <State extends Running>(state: State): State => ({
  ...state,
  cleared: false,
  slowShown: false,
});

/** The way to the end: dark where it stands while that can be sent, then what `close` writes, then nothing more. */
export const ended = <State extends Running, Wanted>(
  state: State,
  how: HowEnded,
  close: (state: State) => Changed<State, Wanted>,
): Changed<State, Wanted | SharedEffect> =>
  andThen<State, Wanted | SharedEffect>([state, [{ kind: "go-dark" }]], (dark) =>
    andThen<State, Wanted | SharedEffect>(close(dark), (closed) => [over(closed, how), [{ kind: "end" }]]),
  );

const over = <State extends Running>(state: State, how: HowEnded): State => ({
  ...state,
  stage: { kind: "finished", how },
});

/** The record may be lost, so nothing more is judged: stop, dark, and say so. */
export const journalFailed = <State extends Running>(state: State, words: string): Changed<State, SharedEffect> => {
  const troubled: State = { ...state, trouble: words };
  return state.stage.kind === "finished"
    ? [troubled, []]
    : [over(troubled, "failed"), [{ kind: "go-dark" }, { kind: "say", words }, { kind: "end" }]];
};
