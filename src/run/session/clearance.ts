import type { Seconds } from "../../domain/units.ts";
import type { Session, Stage } from "./session.ts";

/**
 * What a stage says of the people round the fixture. "hands": somebody may be at it or in its swing. "eyes": they look at
 * the screen, and after a minute without a key nobody knows where they are. "moves": it moves, and whoever is there watches.
 */
export type Whereabouts = "hands" | "eyes" | "moves";

/** Without a sign of life for so long people may have gone to look from near. Judgement. */
export const UNSEEN_S: Seconds = 60;

/**
 * The one rule: the answer to the safety page holds until somebody may have touched the fixture or stood in its swing. It
 * is asked of every input before anything follows from it.
 */
export const staysClear = (cleared: boolean, where: Whereabouts, sinceSign: Seconds): boolean =>
  cleared && where !== "hands" && (where === "moves" || sinceSign <= UNSEEN_S);

/** Of every stage of a single fixture. */
const WHEREABOUTS: Readonly<Record<Stage["kind"], Whereabouts>> = {
  opening: "eyes",
  holding: "eyes",
  "slow-start": "moves",
  moving: "moves",
  asking: "eyes",
  confirming: "eyes",
  stirring: "moves",
  "what-moved": "eyes",
  // At its panel a setting is put right.
  "setting-found": "hands",
  placed: "eyes",
  "at-spot": "moves",
  // Being worked out while nobody has anything to do.
  diagnosing: "eyes",
  // What is offered may be an inspection, and it is walked up to.
  "what-next": "hands",
  "by-hand": "hands",
  // Halted, and not for how long: that is what one halts for.
  paused: "hands",
  "line-lost": "hands",
  finished: "hands",
};

/** The session as it is when the next input comes: cleared still, or not any more. */
export const withClearance = (session: Session): Session =>
  staysClear(session.cleared, WHEREABOUTS[session.stage.kind], stillFor(session))
    ? session
    : { ...session, cleared: false, slowShown: false };

/** Since the last key, or since the last movement came to its end. */
const stillFor = ({ now, signs, group }: Pick<Session, "now" | "signs" | "group">): Seconds =>
  now - Math.max(signs.at(-1) ?? 0, ...group.map(({ end }) => end));
