import { MOSTLY, NEARLY_ALWAYS, OFTEN, type PhysicalEffect, SELDOM, SOMETIMES, shows } from "./effect.ts";

/** What holds a movement back. Judgement, from mechanics. */
export const FRICTION_EFFECTS = {
  drag: {
    words: "it runs hard all the way",
    shows: [
      shows("slow", OFTEN, "friction takes speed"),
      shows("whines", SOMETIMES, "a motor under load sings"),
      shows("tilt-matters", SOMETIMES, "its weight helps one way and hinders the other"),
      shows("one-way-only", SELDOM, "the motor wins one way and not the other"),
      shows("at-no-place", SELDOM, "friction is everywhere"),
      shows("near-an-end", SELDOM, "it starts hardest from where it stood longest"),
      shows("keeps-homing", SELDOM, "home is tried again when it comes too late"),
    ],
    brings: [
      { consequence: "held", often: MOSTLY, because: "friction holds it, here more and there less" },
      { consequence: "lost-steps", often: SOMETIMES, because: "a stepper beyond its torque misses steps" },
      { consequence: "rubs", often: SOMETIMES, because: "dry parts are heard" },
    ],
  },
  "rub-at-a-place": {
    words: "something rubs or catches at one place",
    shows: [
      shows("at-one-place", MOSTLY, "the place is where it is"),
      shows("stops-short", SELDOM, "it does not pass the place"),
      shows("near-an-end", SELDOM, "the place may lie near an end"),
      shows("at-angle", SELDOM, "said of a place in pan or tilt"),
    ],
    brings: [
      { consequence: "rubs", often: NEARLY_ALWAYS, because: "rubbing is what it is" },
      { consequence: "held", often: MOSTLY, because: "at the place it is held" },
      { consequence: "lost-steps", often: SOMETIMES, because: "at the place steps are missed" },
    ],
  },
  "bind-at-an-end": {
    words: "it does not get freely to one end",
    shows: [
      shows("stops-short", MOSTLY, "the end is not reached"),
      shows("near-an-end", MOSTLY, "elsewhere it moves freely"),
      shows("short-range", SOMETIMES, "the way is shorter by that much"),
      shows("knocks", SELDOM, "it strikes what stands in the way"),
      shows("half-in", OFTEN, "it stays short of in or out"),
      shows("hangs-closed", SOMETIMES, "it sticks at the shut end"),
      shows("leaks-light", SOMETIMES, "it stays short of shut"),
      shows("keeps-homing", SOMETIMES, "home lies at that end"),
      shows("error-shown", SELDOM, "home is not reached"),
    ],
    brings: [
      { consequence: "held", often: SOMETIMES, because: "near the end it is held" },
      { consequence: "rubs", often: SOMETIMES, because: "near the end it touches" },
      { consequence: "lost-steps", often: SOMETIMES, because: "the motor steps on against the end" },
    ],
  },
  "pulled-one-way": {
    words: "something pulls it one way",
    shows: [
      shows("one-way-only", MOSTLY, "it helps one way and hinders the other"),
      shows("slow", OFTEN, "against the pull it is slow"),
      shows("stops-short", SOMETIMES, "against the pull the end is not reached"),
      shows("near-an-end", SOMETIMES, "a pull grows towards an end"),
      shows("side-differs", SOMETIMES, "it comes to rest on the side of the pull"),
      shows("tilt-matters", SELDOM, "a pull adds to the weight"),
    ],
    brings: [{ consequence: "held", often: MOSTLY, because: "against the pull it is held" }],
  },
  "sticks-shut": {
    words: "its parts stick together when it is shut",
    shows: [
      shows("hangs-closed", MOSTLY, "it does not open again at once"),
      shows("near-an-end", OFTEN, "elsewhere it moves freely"),
      shows("one-way-only", SOMETIMES, "shutting is easy, opening is not"),
      shows("uneven-strobe", SELDOM, "it is late to open"),
    ],
    brings: [{ consequence: "held", often: OFTEN, because: "it starts from shut with a jump or not at all" }],
  },
  "turns-rough": {
    words: "what turns runs rough",
    shows: [
      shows("uneven-turning", MOSTLY, "fast and slow in turn"),
      shows("ticks", OFTEN, "a bad place comes round once in a turn"),
      shows("whines", SOMETIMES, "a dry bearing sings"),
      shows("misses-angle", SOMETIMES, "friction leaves it short of its angle"),
      shows("wobbles", SELDOM, "a worn bearing has play"),
      shows("at-one-place", OFTEN, "once in a turn, always there"),
      shows("gobos-differ", SELDOM, "one runs rougher than the rest"),
    ],
    brings: [
      { consequence: "rubs", often: OFTEN, because: "rough parts are heard" },
      { consequence: "held", often: SOMETIMES, because: "a rough bearing holds" },
      { consequence: "lost-steps", often: SELDOM, because: "and now and then costs a step" },
    ],
  },
} as const satisfies Readonly<Record<string, PhysicalEffect>>;
