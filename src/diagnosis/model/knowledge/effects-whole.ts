import { MOSTLY, NEARLY_ALWAYS, OFTEN, type PhysicalEffect, RARELY, SELDOM, SOMETIMES, shows } from "./effect.ts";

/** What happens to the light, the heat, the supply and the data of the fixture as a whole. Judgement. */
export const WHOLE_EFFECTS = {
  "light-weak": {
    words: "less light comes out",
    shows: [shows("dim", MOSTLY, "that is what is seen")],
    brings: [],
  },
  "light-tinted": {
    words: "white is not white",
    shows: [
      shows("tinted", MOSTLY, "in every state alike"),
      shows("wrong-shade", SELDOM, "and so in every colour"),
      shows("patchy", RARELY, "more in one place than in another"),
    ],
    brings: [],
  },
  scatter: {
    words: "light is scattered on the way",
    shows: [
      shows("veil", MOSTLY, "a halo stands round the picture"),
      shows("dim", SOMETIMES, "what is scattered is missing"),
      shows("not-sharp", SOMETIMES, "edges look soft"),
      shows("patchy", SELDOM, "dirt is seen in the field"),
    ],
    brings: [],
  },
  "field-uneven": {
    words: "the field has a dark place",
    shows: [
      shows("shadow", MOSTLY, "that is what is seen"),
      shows("dim", SELDOM, "some of the light is missing"),
      shows("patchy", SELDOM, "colours show it too"),
    ],
    brings: [],
  },
  "light-unsteady": {
    words: "the light is not steady",
    shows: [
      shows("flickers", MOSTLY, "that is what is seen"),
      shows("dimmer-steps", SOMETIMES, "low down it flickers most"),
      shows("light-out", SELDOM, "a flicker may end in the dark"),
      shows("uneven-strobe", SELDOM, "flashes differ"),
    ],
    brings: [],
  },
  "light-lost": {
    words: "the light goes out",
    shows: [
      shows("light-out", MOSTLY, "that is what is seen"),
      shows("no-strike", SOMETIMES, "out before anybody looked, it never came"),
      shows("cuts-out", SOMETIMES, "after some time, some say"),
      shows("flickers", SELDOM, "before it goes"),
      shows("slow-strike", SELDOM, "a hot lamp needs several tries"),
    ],
    brings: [],
  },
  "strikes-hard": {
    words: "the light is slow to come",
    shows: [
      shows("slow-strike", MOSTLY, "several tries"),
      shows("no-strike", OFTEN, "or all tries in vain"),
      shows("light-out", SELDOM, "it strikes and drops"),
      shows("flickers", SOMETIMES, "unsteady while it warms"),
    ],
    brings: [],
  },
  "emitter-out": {
    words: "one colour of emitters stays dark",
    shows: [
      shows("colour-dead", NEARLY_ALWAYS, "asked for alone, nothing comes"),
      shows("wrong-shade", OFTEN, "every mixture lacks it"),
      shows("tinted", SOMETIMES, "white lacks it too"),
      shows("dim", SOMETIMES, "and so does the whole output"),
      shows("shadow", SELDOM, "its string is a dark place"),
    ],
    brings: [],
  },
  "heat-kept": {
    words: "heat is not carried off",
    shows: [
      shows("cuts-out", MOSTLY, "when it is too hot the light is switched off"),
      shows("dim", SOMETIMES, "before that the output is cut back"),
      shows("light-out", SOMETIMES, "seen as a light that went out"),
      shows("fan-loud", OFTEN, "fans that run faster are heard"),
      shows("error-shown", SELDOM, "the display warns of heat"),
      shows("smells-burnt", SOMETIMES, "dust in hot air smells"),
      shows("no-strike", SELDOM, "too hot, it does not come back"),
      shows("slow-strike", SELDOM, "a hot lamp needs several tries"),
      shows("flickers", SELDOM, "a hot source is unsteady before it goes"),
    ],
    brings: [],
  },
  "fan-rough": {
    words: "a fan runs rough",
    shows: [
      shows("fan-loud", NEARLY_ALWAYS, "that is what is heard"),
      shows("whines", SOMETIMES, "a dry bearing sings"),
      shows("ticks", SOMETIMES, "a blade touches"),
      shows("rattles", SELDOM, "the rotor has play"),
    ],
    brings: [],
  },
  "fan-stands": {
    words: "a fan stands still",
    shows: [
      shows("fan-still", NEARLY_ALWAYS, "that is what is seen"),
      shows("error-shown", OFTEN, "its speed is watched"),
      shows("fan-loud", SELDOM, "the others run faster"),
    ],
    brings: [],
  },
  scorches: {
    words: "a joint gets hot",
    shows: [
      shows("smells-burnt", OFTEN, "scorched plastic smells"),
      shows("flickers", SELDOM, "a hot joint is a bad joint"),
    ],
    brings: [],
  },
  restarts: {
    words: "its electronics start anew",
    shows: [
      shows("reset-itself", NEARLY_ALWAYS, "everything looks for home in mid show"),
      shows("several-at-once", SOMETIMES, "all functions go home together"),
      shows("something-else-moved", SOMETIMES, "what was not asked to move moves too"),
      shows("light-out", SOMETIMES, "a restart shuts the light off"),
      shows("keeps-homing", SELDOM, "the restart is seen on one function first"),
      shows("display-dark", SELDOM, "the display starts anew too"),
      shows("error-shown", SELDOM, "the display says why"),
    ],
    brings: [],
  },
  "goes-dead": {
    words: "its power goes",
    shows: [
      shows("went-dead", NEARLY_ALWAYS, "that is what is seen"),
      shows("light-out", OFTEN, "the light goes with it"),
      shows("display-dark", OFTEN, "and the display"),
      shows("nothing-moves", OFTEN, "and everything else"),
      shows("reset-itself", SOMETIMES, "when it comes back it starts anew"),
      shows("no-strike", SELDOM, "or there never was any light"),
    ],
    brings: [],
  },
  "supply-sags": {
    words: "its supply sags under load",
    shows: [
      shows("flickers", SOMETIMES, "the light follows the supply while all moves"),
      shows("several-at-once", SOMETIMES, "everything suffers together"),
      shows("dim", SELDOM, "less voltage, less light"),
      shows("whines", SELDOM, "an overloaded supply sings"),
      shows("no-strike", SELDOM, "striking asks most of it"),
      shows("slow-strike", SELDOM, "or it takes several tries"),
      shows("light-out", SOMETIMES, "when all moves the light drops"),
      shows("reset-itself", OFTEN, "when all moves the electronics start anew"),
    ],
    brings: [],
  },
  deaf: {
    words: "no command reaches it",
    shows: [
      shows("nothing-moves", NEARLY_ALWAYS, "that is what is seen"),
      shows("no-move", OFTEN, "named for each function in turn"),
      shows("no-strike", SOMETIMES, "nobody opens the dimmer"),
      shows("several-at-once", SELDOM, "all of them together"),
    ],
    brings: [],
  },
  "listens-elsewhere": {
    words: "it listens to other slots",
    shows: [
      shows("wrong-thing", MOSTLY, "one moves in place of another"),
      shows("something-else-moved", SOMETIMES, "and another moves with it"),
      shows("nothing-moves", SOMETIMES, "or none does"),
      shows("several-at-once", SELDOM, "all are wrong together"),
      shows("reset-itself", SELDOM, "a control slot is swept by mistake"),
      shows("light-out", SELDOM, "or the lamp slot"),
      shows("no-strike", SELDOM, "or nobody opens the dimmer"),
    ],
    brings: [],
  },
  "axes-exchanged": {
    words: "pan and tilt are exchanged",
    shows: [
      shows("wrong-thing", NEARLY_ALWAYS, "tilt moves for pan"),
      shows("no-move", SELDOM, "what was asked for stands"),
      shows("something-else-moved", SOMETIMES, "and the other moves"),
    ],
    brings: [],
  },
  "several-drop-out": {
    words: "several functions drop out together",
    shows: [
      shows("several-at-once", MOSTLY, "that is what is seen"),
      shows("flickers", SELDOM, "the light among them"),
      shows("error-shown", SOMETIMES, "the electronics notice"),
      shows("light-out", SELDOM, "the light among them"),
      shows("reset-itself", SELDOM, "the supply among them"),
    ],
    brings: [],
  },
  "by-the-angle": {
    words: "contact depends on where the head points",
    shows: [
      shows("at-angle", MOSTLY, "that is what is seen"),
      shows("near-an-end", SOMETIMES, "wires bend most at the ends"),
      shows("at-one-place", SOMETIMES, "they open always at the same place"),
      shows("light-out", SELDOM, "the light among them"),
      shows("flickers", SOMETIMES, "the light among them"),
    ],
    brings: [],
  },
  "by-the-plug": {
    words: "contact depends on the plug",
    shows: [
      shows("by-cable", MOSTLY, "touched, it comes and goes"),
      shows("flickers", SELDOM, "levels are lost for moments"),
    ],
    brings: [],
  },
  "display-out": {
    words: "the display or its keys fail",
    shows: [shows("display-dark", NEARLY_ALWAYS, "that is what is seen")],
    brings: [],
  },
  "memory-lost": {
    words: "settings are lost when the power goes",
    shows: [
      shows("forgets-settings", NEARLY_ALWAYS, "that is what is seen"),
      shows("wrong-thing", SELDOM, "and so it may have another address"),
      shows("error-shown", SELDOM, "the display may say so"),
    ],
    brings: [],
  },
  "parts-loose": {
    words: "something loose lies or hangs in it",
    shows: [
      shows("rattles", MOSTLY, "that is what is heard"),
      shows("knocks", SELDOM, "it falls to and fro as the head turns"),
      shows("grinds", SELDOM, "it is dragged along"),
    ],
    brings: [],
  },
} as const satisfies Readonly<Record<string, PhysicalEffect>>;
