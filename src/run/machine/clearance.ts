import type { Frame, Seconds } from "../../domain/units.ts";
import { type Running, uncleared } from "./running.ts";
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

/** What comes before a movement: the area is asked about, then the mains is switched on, then it moves slowly. */
export type FirstDue = "before-moving" | "mains-on" | "slow-start";

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
