import type { Frame, Seconds } from "../../domain/units.ts";
import type { EventBody } from "../events/event.ts";
import { andThen, type Changed, type Running, stay, uncleared } from "./running.ts";
import { STAGES } from "./stages.ts";

/** How long without a sign of life, before people may have gone to look from near. Judgement. */
const UNSEEN_S: Seconds = 60;

/**
 * Takes the clearance away when somebody may have touched a fixture or stood in its swing: the answer to the safety page
 * holds until then. It is asked of every input before anything follows from it. `stopped` is when the last movement came to
 * its end, on the run's clock; undefined where nothing has moved yet.
 */
export const withClearance = <State extends Running>(state: State, stopped: Seconds | undefined): State => {
  const { people } = STAGES[state.stage.kind];
  const still = state.now - Math.max(state.signs.at(-1) ?? 0, stopped ?? Number.NEGATIVE_INFINITY);
  const stays = state.cleared && people !== "hands" && (people === "moves" || still <= UNSEEN_S);
  return stays ? state : uncleared(state);
};

/** What a person agrees to before a movement: "mains-on" before a watched power-up, "before-moving" once a run and after every break. */
export type HoldPoint = "before-moving" | "mains-on";

/** What comes before a movement: the area is asked about, then the mains is switched on, then it moves slowly. */
export type FirstDue = HoldPoint | "slow-start";

/**
 * What is due first before a step plays from `frame`; undefined when nothing stands before it any more. With a step that
 * switches the mains on (`powersUp`) the fixture moves by itself, so that nothing slow can come before.
 */
export const dueBefore = (
  { cleared, slowShown }: Pick<Running, "cleared" | "slowShown">,
  powersUp: boolean,
  frame: Frame,
): FirstDue | undefined => {
  if (!cleared) return "before-moving";
  if (powersUp) return frame === 0 ? "mains-on" : undefined;
  return slowShown ? undefined : "slow-start";
};

/**
 * Takes a hold point before a movement as confirmed: whoever switches the mains on says at that moment that the area is clear,
 * too, and each is kept. `write` puts an event in the run.
 */
export const holdConfirmed = <State extends Running, Wanted>(
  state: State,
  point: HoldPoint,
  write: (state: State, body: EventBody) => Changed<State, Wanted>,
): Changed<State, Wanted> => {
  const [told, effects] = state.cleared
    ? stay(state)
    : write(state, { kind: "hold-confirmed", point: "before-moving" });
  const cleared: Changed<State, Wanted> = [{ ...told, cleared: true }, effects];
  return point === "mains-on" ? andThen(cleared, (s) => write(s, { kind: "hold-confirmed", point })) : cleared;
};
