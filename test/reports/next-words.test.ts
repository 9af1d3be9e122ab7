import { expect, test } from "vitest";
import type { Offer } from "../../src/diagnosis/model/offer.ts";
import type { PlayedTest } from "../../src/diagnosis/model/probe.ts";
import { adviceInWords, nextCommand, nextInWords, offerInWords } from "../../src/reports/next-words.ts";
import { RULE_IDS, type RuleId } from "../../src/run/release/rules.ts";

const LOOK: Offer = {
  kind: "inspection",
  inspection: "pan-belt-tension",
  cover: "yoke",
  minutes: 6,
  reason: "would find: pan belt slack or worn",
  expectedMinutes: 6,
  bits: 0.5,
};
const MOVE: Offer = {
  kind: "driven",
  under: "as usual",
  steps: [{ routine: "snap", functions: ["Pan"], options: {} }],
  routine: "snap",
  function: "Pan",
  seconds: 6,
  reason: "confirms pan belt slack or worn if it shows",
  expectedMinutes: 4,
  bits: 0.5,
};
const played = (
  under: PlayedTest["under"],
  steps: PlayedTest["steps"],
  seconds: number,
  on: PlayedTest["function"] = undefined,
): PlayedTest => ({ under, routine: "sweep", function: on, steps, seconds });
const SHAKEN = played("shaken", [{ routine: "shake", functions: ["Pan", "Tilt", "Frost1"], options: {} }], 8, "Frost1");
const TIPPED = played("tipped", [{ routine: "sweep", functions: ["Zoom"], options: {} }], 20, "Zoom");
const hot = (...moved: PlayedTest["steps"][number]["functions"]) =>
  played(
    "hot",
    [
      { routine: "soak", functions: ["Focus1"], options: { seconds: 400 } },
      { routine: "sweep", functions: moved, options: {} },
      { routine: "hold", functions: ["Dimmer"], options: {} },
    ],
    430,
  );

test.each<{ readonly tests: readonly PlayedTest[]; readonly words: string; readonly because: string }>([
  {
    tests: [SHAKEN],
    words: "move frost while the head is shaken, 8 s; may show: x",
    because: "one test alone says its seconds",
  },
  {
    tests: [SHAKEN, TIPPED],
    words:
      "move frost while the head is shaken, then move zoom with the head leaning to both sides, 2 min; may show: x",
    because: "several in one go say how long it takes with every question",
  },
  {
    tests: [SHAKEN, TIPPED, hot("Zoom")],
    words:
      "light on for 7 min, meanwhile shaken and leaning to both sides; then move zoom and watch the light, hot, 2 min; may show: x",
    because: "what is watched while it warms up is said briefly, and its time is time with the light on",
  },
  {
    tests: [hot()],
    words: "light on for 7 min, then watch the light, hot, 7 min; may show: x",
    because: "where nothing binds when warm only the light is watched",
  },
])("where nothing was found it is offered: $words, because $because", ({ tests, words }) => {
  const offer = { kind: "try-out", tests, minutes: 1.6, reason: "may show: x", chance: 0.01 } as const;
  expect(offerInWords(offer)).toBe(words);
});

const NO_MOVE = "No further movement is offered: an inspection tells more in the same time.";

test("where no movement is offered it says why", () => {
  expect(adviceInWords({ kind: "offers", offers: [LOOK] }).at(-1)).toBe(NO_MOVE);
  expect(adviceInWords({ kind: "offers", offers: [MOVE, LOOK] })).not.toContain(NO_MOVE);
});

test("what is conclusive says how often such an answer is wrong", () => {
  expect(adviceInWords({ kind: "settled", on: "pan-belt-slack", also: ["lens-grime"] })).toEqual([
    "Conclusive, and wrong about once in 20 times: pan belt slack or worn; and dirt on the lenses.",
  ]);
});

const open = (...rules: readonly RuleId[]) => rules.map((rule) => ({ rule, words: rule }));

test.each<[readonly RuleId[], string, string]>([
  [["failed", "measured"], "limber finish A-17", "what can be played, looked at and measured is done in one run"],
  [["cleaned", "looked", "disturbed"], "limber finish A-17", "the same"],
  [["danger", "measured"], "limber repaired A-17 FAULT", "a danger is repaired before anything else"],
  [["repaired"], "limber repaired A-17 FAULT", "what was found is repaired first"],
  [["over", "failed"], "limber resume", "an open run is ended first"],
  [["held-back", "danger"], "limber repaired A-17 FAULT", "a danger comes before everything"],
  [["held-back", "failed"], "limber lift A-17 --why WORDS", "only a person lifts what is held back"],
  [["named", "tested"], "limber run check-in --serial NUMBER", "nothing can be kept of what has no number"],
])("%s: %s, because %s", (rules, command) => {
  expect(nextCommand("A-17", open(...rules))).toBe(command);
});

test("whatever blocks a release, one command is named, and a sentence says what it does", () => {
  for (const rule of RULE_IDS) {
    const command = nextCommand("A-17", open(rule)) ?? "none";
    expect(nextInWords("A-17", open(rule))).toContain(command.replace(/ FAULT$/, ""));
  }
  expect(nextInWords("A-17", [])).toBe("");
});

test("a serial number that a shell would take apart is quoted", () => {
  expect(nextCommand("A 17; rm", open("failed"))).toBe("limber finish 'A 17; rm'");
  expect(nextCommand("it's", open("failed"))).toBe("limber finish 'it'\\''s'");
});
