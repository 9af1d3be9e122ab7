import type { Seconds } from "../../domain/units.ts";
import type { Session } from "./session.ts";

/** Watching wears off within half an hour; a rest is worth offering by now (Mackworth 1948, secondary). */
const LONG_WATCH_S: Seconds = 20 * 60;
/** How long without a sign of life counts as a rest. Judgement. */
const REST_S: Seconds = 5 * 60;

/** Notes that somebody touched a key: after a rest the watch begins anew. */
export const signOfLife = (session: Session): Session => {
  const { now, signs, watchingSince } = session;
  const rested = now - (signs.at(-1) ?? now) >= REST_S;
  return { ...session, signs: [...signs, now], watchingSince: rested ? now : watchingSince };
};

/** How long somebody has been watching without a rest; undefined while that is not too long. */
export const tooLongOnWatch = ({ now, watchingSince, stage }: Session): Seconds | undefined => {
  const watched = now - watchingSince;
  return watched >= LONG_WATCH_S && stage.kind !== "finished" ? watched : undefined;
};
