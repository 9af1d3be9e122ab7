/**
 * The words of this program that need a sentence: one thing has one name, on the screen, in a command, in a file. `before` are
 * words that were used for the same thing and are not used any more; a test reads everything that a user can read for them.
 * Words of the trade where it has one; the sentences are our own.
 */
export interface Term {
  readonly means: string;
  readonly before: readonly RegExp[];
}

const term = (means: string, ...before: readonly RegExp[]): Term => ({ means, before });

export const GLOSSARY = {
  commanded: term(
    "the position that Limber sends",
    /told to (?:be|stand|go)|where it was told/,
    /was asked to move|asked to move a little/,
  ),
  actual: term("the position that the fixture has; only you can see it", /\bwhere it is,/),
  lag: term("the difference between commanded and actual", /\bgap: between|gap enlarged/),
  "fault position": term("the place of the travel where the fault shows", /\b(?:at|to) the spot\b/i),
  "backlash test": term("the same position, reached from both sides", /same place from both sides/),
  reverses: term("changes its direction of movement", /\bturns round\b|\bturning round\b/),
  inspection: term(
    "looking at a part, or moving it by hand",
    /\blooks? by hand\b/i,
    /\bnot looked at\b/,
    /\blooked at by\b/,
  ),
  measurement: term("a value that a person measures: in limit or out of limit"),
  repaired: term("a person has removed a fault", /\bmend(?:s|ed|ing)?\b/i),
  affected: term("a repair may have changed it: test it again", /\bdisturbed\b/),
  saved: term(
    "written to the journal on the disk",
    /\b(?:is|are|not) kept\b/,
    /\bkept (?:with|yet)\b/,
    /\bENTER keeps\b/,
  ),
  "set aside": term("put away, not worked on now", /\bput by\b/, /\bput it by\b/),
  "held back": term("not released before a person lifts it; the reason is recorded", /\bquarantine/i),
  "sign off": term(
    "a person releases the fixture for use",
    /\bstands? against\b/,
    /\bWhere it stands\b/,
    /\bIt stands: /,
  ),
  suspect: term("differs from the others: test it alone", /\bodd\b/i, /\bnobody differs\b/i),
  inconclusive: term("not enough was seen to decide", /\bcan't say yet\b/, /\bgood as settled\b/, /\bso few tell\b/),
  conclusive: term("enough was seen to decide", /\bwould make sure\b/),
  "tells X from Y": term("this test shows one fault and not the other", /\bwould part\b/, /\bstays quiet\b/),
  "hidden fault": term("what was set in the simulated fixture", /\bhad been set\b/i),
  "false alarm": term("called, and nothing was wrong", /\bcalled for nothing\b/, /\bfalsely called\b/),
  "passed correctly": term("passed, and nothing was wrong", /\brightly\b/, /\bshown clean\b/),
  calculated: term("worked out from what was recorded", /\breckon/i),
  rebuilt: term("calculated again from the journal", /\bmade? anew\b/i),
  "computer too slow": term("a step was late and is repeated", /\brig was late\b/, /\brig itself\b/, /\bof the rig\b/),
  continuous: term(
    "steps follow each other without a question after each",
    /\bhands-off run\b/,
    /\bgoes? on by itself\b/,
  ),
  "faster than real time": term("a simulated run that nobody watches", /\bin no (?:real )?time\b/),
  try: term("one playing of a step; a second try has a reason", /, time \$/),
  undo: term("take the last answer away and ask again", /\btake back\b/i),
  pause: term("dark and still until you continue", /\bLeaving: /, /\bAfter this step: a break\b/, /\bshort halt\b/),
  CTO: term("colour temperature orange: warmer white", /\bwarm correction\b/),
  "animation wheel": term("a wheel with a pattern that turns through the beam", /\beffect wheel\b/),
  "framing rotation": term("turns all framing blades together", /\bblade assembly\b/),
  "blade A, blade B": term("the two ends of one framing blade", /\b(?:first|second) corner\b/),
  "previous hirer": term("who had the fixture before", /\blast user\b/),
  "verify a profile": term("try every line of a profile on a good fixture", /\bprove (?:a profile|the copy|it)\b/i),
  "hold point": term("work stops until a person confirms", /\bsafety points?\b/i),
  dirt: term("what has to be cleaned off", /\bgrim[ey]\b/i),
  "not reported": term("nobody pressed for it", /\bnot noticed\b/),
  "you were checking": term("what the step was for", /\bto watch for was\b/i),
  "page 1 of 3": term("a list goes on: the key for the next page stands beside it", /\bleafs? on\b/),
  "which one moved": term("the question after one fixture was commanded to move", /\bwho moved\b/i),
  "not a valid answer": term(
    "type one of the answers that are listed",
    /\bis no (?:valid )?answer\b/,
    /\bmust be said here\b/,
    /\b(?:is|are) wanted\b/,
  ),
  run: term("one playing of a sequence on a fixture; a sweep is one routine in it", /\blimber sweep\b/),
} as const satisfies Readonly<Record<string, Term>>;
