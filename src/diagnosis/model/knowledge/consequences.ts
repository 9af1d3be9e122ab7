import {
  COUNTED,
  COUNTED_AND_SEEN,
  ENCODED,
  MOSTLY,
  OFTEN,
  RARELY,
  SEEN_TO_STAND,
  SELDOM,
  type Shown,
  SOMETIMES,
  shows,
} from "./effect.ts";

/**
 * What follows from an effect by itself, for every fault alike: what stands is in the wrong place, what is held catches up,
 * what lost steps is somewhere else afterwards, what rubs is heard. Judgement, from mechanics.
 */
export const CONSEQUENCES = {
  /** It does not go where it is sent. */
  stands: [
    shows("wrong-place", OFTEN, "it is not where it is told to be", SEEN_TO_STAND),
    shows("stops-short", SOMETIMES, "the end is never reached, and some say it so"),
    shows("wrong-item", OFTEN, "every position asked for is the one it stands on"),
    shows("between-two", SELDOM, "transport leaves it anywhere"),
    shows("half-in", OFTEN, "it stays where transport left it, often half way"),
    shows("wrong-shade", SOMETIMES, "the colour asked for never comes"),
    shows("late-flag", SOMETIMES, "a colour that never comes is called late"),
    shows("not-sharp", SOMETIMES, "the lens is not where the picture would be sharp"),
    shows("misses-angle", SOMETIMES, "it stays at the angle it had"),
    shows("hangs-closed", SOMETIMES, "shut when it failed, it stays shut"),
    shows("leaks-light", SOMETIMES, "open when it failed, it does not shut"),
    shows("uneven-strobe", SOMETIMES, "one blade of two beats alone"),
    shows("crooked", SELDOM, "one corner stays behind the others"),
    shows("keeps-homing", SOMETIMES, "the search for home runs until its time is out"),
    shows("error-shown", SOMETIMES, "home is not found, and the display says so"),
  ],
  /** The motor is stronger than what holds it, but only just. */
  held: [
    shows("stalls", MOSTLY, "it stops where it is held until the motor wins"),
    shows("jerks", OFTEN, "held and let go in turn"),
    shows("slow", OFTEN, "it takes longer than it should"),
    shows("catches-up", OFTEN, "the encoder sees it lag, and it hurries after", ENCODED),
    shows("late-flag", OFTEN, "one colour arrives after the others"),
    shows("dimmer-steps", SOMETIMES, "a blade that sticks moves in small jumps"),
    shows("uneven-strobe", OFTEN, "a held blade is late at every flash"),
    shows("uneven-turning", SOMETIMES, "held once in a turn"),
    shows("hangs-closed", SOMETIMES, "it is held at the shut end"),
    shows("leaks-light", SOMETIMES, "it is held before it is shut"),
    shows("half-in", SOMETIMES, "it stays where it was held"),
    shows("stops-short", SOMETIMES, "held before the end"),
    shows("no-move", SELDOM, "held altogether"),
    shows("trembles", RARELY, "the motor steps against what holds it"),
    shows("hunts", SELDOM, "the loop pushes and overshoots", ENCODED),
  ],
  /** Counted drives only: nobody tells them that they slipped a step. */
  "lost-steps": [
    shows("moved-after", OFTEN, "the count and the place no longer agree", COUNTED),
    shows("wrong-place", OFTEN, "it goes to the right count in the wrong place", COUNTED_AND_SEEN),
    shows("wrong-item", SOMETIMES, "a position further on", COUNTED),
    shows("between-two", SOMETIMES, "a few steps beside the position", COUNTED),
    shows("wrong-shade", SOMETIMES, "the flag is too far in or out", COUNTED),
    shows("half-in", SOMETIMES, "it does not come fully in or out", COUNTED),
    shows("misses-angle", SOMETIMES, "the angle is beside the one asked for", COUNTED),
    shows("not-sharp", SELDOM, "the lens is beside its place", COUNTED),
    shows("stops-short", SOMETIMES, "the steps run out before the end", COUNTED),
    shows("crooked", SELDOM, "one corner is off its place", COUNTED),
    shows("leaks-light", SELDOM, "the shut position is beside the shut place", COUNTED),
    shows("slips-back", RARELY, "each pass it ends a little nearer to home", COUNTED),
  ],
  /** Something touches something. */
  rubs: [
    shows("grinds", MOSTLY, "touching parts are heard"),
    shows("whines", SELDOM, "a fast motor under load sings"),
    shows("ticks", SOMETIMES, "touched once in a turn"),
    shows("rattles", SELDOM, "what touches lightly rattles"),
  ],
} as const satisfies Readonly<Record<string, readonly Shown[]>>;
