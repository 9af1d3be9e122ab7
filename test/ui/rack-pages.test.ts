import { describe, expect, test } from "vitest";
import type { FunctionId } from "../../src/domain/trade/functions.ts";
import type { Spectacle } from "../../src/run/ports.ts";
import { letterOf } from "../../src/ui/fixture-keys.ts";
import { changesInWords } from "../../src/ui/sentences.ts";
import { DrivenRack, spots } from "../kit/driven-rack.ts";
import { cutCharacters, SCRIPTS } from "../kit/hostile.ts";
import { RACK_PLAN as plan, RackTypist } from "./rack-typist.ts";
import { AGREE } from "./sights.ts";

/** Whole screens of a terminal of 80 columns and 24 rows; `vitest -u` writes them anew, a person reads them. */
const SHELVES = ["top", "middle", "bottom"];
const twelve = spots(12).map((one, n) => one.replace("shelf: top", `shelf: ${SHELVES[Math.floor(n / 4)]}`));
const STEPS = [
  "{ sweep: [Pan, Tilt], seconds: 6, passes: 2 }",
  "{ sweep: Iris, seconds: 2, passes: 2 }",
  "{ sweep: Zoom, seconds: 2, passes: 2 }",
];

const opened = (fixtures: readonly string[] = twelve) =>
  new RackTypist(new DrivenRack({ fixtures, steps: STEPS }).begin());
const moving = (fixtures: readonly string[] = twelve) => opened(fixtures).press(AGREE).playOut();
const pressedFor = () => moving().press("f", "f", "j");
const SHOWS: Spectacle = {
  parts: [{ function: "Pan", share: 0.3, words: "-108 degrees" }],
  sounds: [],
  light: "dark",
  display: "",
};
const knocks: Spectacle = { ...SHOWS, sounds: ["pan: loud knock"], parts: [{ ...SHOWS.parts[0]!, share: 0.15 }] };
const shown = [SHOWS, knocks, SHOWS, SHOWS, SHOWS, SHOWS].map((spectacle) => ({ spectacle, moved: new Map() }));
const ganged = spots(3).map((one) => one.replace(/address: \d+/, "address: 1, ganged: true"));

test.each<{ page: string; shows: () => string; because: string }>([
  { page: "rack-before-moving", shows: () => opened().page(), because: "the first thing anybody sees" },
  { page: "rack-slow", shows: () => opened().press(AGREE).page(), because: "before anything at full speed" },
  { page: "rack-moving", shows: () => moving().page({ shown }), because: "simulated: the odd one shows in its strip" },
  { page: "rack-moving-real", shows: () => pressedFor().page(), because: "on a real rack the eyes are on the rack" },
  {
    page: "rack-moving-far",
    shows: () => pressedFor().page({ letters: "several rows high" }),
    because: "to be read from three metres",
  },
  { page: "rack-which", shows: () => moving().press("space").playOut().page(), because: "seen, and not which" },
  { page: "rack-break", shows: () => moving().press("w").playOut().page(), because: "still and dark" },
  { page: "rack-picked", shows: () => moving().press("w").playOut().press("g").page(), because: "one is spoken of" },
  {
    page: "rack-swapping",
    shows: () =>
      moving()
        .press("w")
        .playOut()
        .press("g", "a", ..."N9")
        .page(),
    because: "another is put in",
  },
  {
    page: "rack-confirm",
    shows: () => {
      const at = pressedFor();
      at.rack.until(({ stage }) => stage.kind === "confirming");
      return at.page();
    },
    because: "silence counts only for what was watched",
  },
  {
    page: "rack-between",
    shows: () => {
      const at = pressedFor();
      at.rack.untilStage("between");
      return at.page();
    },
    because: "the second pass is agreed to",
  },
  {
    page: "rack-own-address",
    shows: () => {
      const at = moving(ganged).press("d");
      at.rack.untilStage("own-address");
      return at.page();
    },
    because: "a ganged one is told apart",
  },
  {
    page: "rack-line-lost",
    shows: () => {
      const at = moving();
      at.rack.send({ kind: "line-lost", universe: 1, words: "the cable is out" });
      return at.page();
    },
    because: "nobody knows how they stand",
  },
  { page: "rack-24", shows: () => moving(spots(17)).page(), because: "more than one page" },
  { page: "rack-24-second", shows: () => moving(spots(17)).press("tab").page(), because: "leafed on" },
  { page: "rack-still-there", shows: () => moving().page({ quiet: 41 }), because: "no key for 40 seconds" },
])("$page: $because", async ({ page, shows }) => {
  await expect(shows()).toMatchFileSnapshot(`./pages/${page}.txt`);
});

/** What is drawn of one fixture that moves among others and is seen at this share of its travel. */
const drawnOf = (step: string, id: FunctionId, share: number): string => {
  const at = new RackTypist(new DrivenRack({ fixtures: spots(2), steps: [step] }).begin().untilStage("moving"));
  const spectacle = { ...SHOWS, parts: [{ function: id, share, words: "" }] };
  const page = at.page({ frame: 0, shown: [{ spectacle, moved: new Map() }] });
  return /\[[-|O]*\]/.exec(page)![0];
};

test.each<{ step: string; id: FunctionId; share: number; drawn: RegExp; because: string }>([
  {
    step: "power-up: fixture",
    id: "Pan",
    share: 0.3,
    drawn: /^\[-+O-+\]$/,
    because: "it homes by itself, and nobody commands it",
  },
  {
    step: "{ sweep: Pan, seconds: 3 }",
    id: "Pan",
    share: 1.02,
    drawn: /^\[\|-+O\]$/,
    because: "a swing beyond its end is no jump to the other",
  },
  {
    step: "step-through: Color1",
    id: "Color1",
    share: 0.98,
    drawn: /^\[O-+\]$/,
    because: "a wheel that lags a little is not a whole turn away",
  },
])("in the row of a fixture among others, $step: $because", ({ step, id, share, drawn }) => {
  expect(drawnOf(step, id, share)).toMatch(drawn);
});

test("a minute without a key: it is said that nothing counts, and what ends that", () => {
  expect(moving().page({ quiet: 61 })).toContain("! No key for a minute: what moves now does not count as watched.");
});

/** A name everywhere where the person who wrote the rack file may have written one. */
const named = (name: string) =>
  twelve.map((one, n) =>
    one
      .replace(/serial: S\d+/, `serial: ${JSON.stringify(`${name} ${n}`)}`)
      .replace(/shelf: \w+/, `shelf: ${JSON.stringify(name)}`)
      .replace(/place: "\d+"/, `place: ${JSON.stringify(`${name} ${n}`)}`),
  );

const STAGES: Readonly<Record<string, (fixtures: readonly string[]) => RackTypist>> = {
  "before anything moves": (fixtures) => opened(fixtures),
  "slowly first": (fixtures) => opened(fixtures).press(AGREE),
  "in movement": (fixtures) => moving(fixtures).press("f", "j"),
  "which it was": (fixtures) => moving(fixtures).press("space").playOut(),
  "in a break, one picked": (fixtures) => moving(fixtures).press("w").playOut().press("g"),
  "another put in": (fixtures) => moving(fixtures).press("w").playOut().press("g", "a"),
  "asked what was watched": (fixtures) => {
    const at = moving(fixtures).press("f");
    at.rack.until(({ stage }) => stage.kind === "confirming");
    return at;
  },
  "between the passes": (fixtures) => {
    const at = moving(fixtures).press("f");
    at.rack.untilStage("between");
    return at;
  },
  "one alone": (fixtures) => {
    const at = moving(fixtures).press("f");
    at.rack.untilStage("alone");
    return at;
  },
};

describe.each(Object.entries(SCRIPTS))("names in %s (%s)", (_, name) => {
  test.each(Object.entries(STAGES))("%s: every page fits, and no character is cut in two", (_stage, at) => {
    const typist = at(named(name));
    for (const letters of ["usual", "several rows high"] as const)
      expect(cutCharacters(typist.page({ letters }), name)).toEqual([]);
  });
});

test("a fixture has one letter for the whole run: on every page, in every group, in pause", () => {
  const letters = Array.from({ length: 48 }, (_, index) => letterOf(index, plan).label);
  expect(new Set(letters).size).toBe(48);
  const rack = moving(spots(17));
  const seen = new Map<string, Set<string>>();
  for (const keys of [[], ["tab"], ["tab"]]) {
    for (const [, letter = "", serial = ""] of rack
      .press(...keys)
      .page()
      .matchAll(/ ([A-Z]\d?) +\d+ +(S\d+) /g))
      seen.set(serial, (seen.get(serial) ?? new Set()).add(letter));
  }
  for (const [serial, its] of seen) expect([...its], serial).toEqual([letters[Number(serial.slice(1)) - 1]]);
  expect(seen.size).toBeGreaterThan(3);
});

const asked = () => {
  const at = moving();
  at.rack.until(({ stage }) => stage.kind === "confirming");
  return at;
};
const results = ({ rack }: RackTypist, serials: readonly string[]) =>
  serials.map((serial) => rack.result(serial, "sweep-pan-tilt"));

test("all passed but some: their letters except them, and once more takes that back", () => {
  const at = asked().press("f", "j", "f", "g");
  expect(at.page()).toContain("ENTER: I watched them, all but S4, S3.");
  at.press("enter");
  expect(results(at, ["S1", "S2", "S3", "S4"])).toEqual(["pass", "pass", "not-watched", "not-watched"]);
});

test("three buttons are enough at a rack too: which it was, who was not watched, and that nobody was there", () => {
  const which = moving().press("space").playOut().press("space", "space");
  expect(which.page()).toContain("> it was S2, top, 2  (A: this one; SPACE: the next)");
  which.press("a");
  expect(which.rack.batch.stage).toMatchObject({ kind: "which", named: [1] });

  const but = asked().press("space", "space", "a");
  expect(but.page()).toContain("ENTER: I watched them, all but S1.");
  but.press("space", "a");
  expect(results(but, ["S1", "S2"])).toEqual(["not-watched", "pass"]);

  const nobody = asked().press("a");
  expect(results(nobody, ["S1", "S2"])).toEqual(["not-watched", "not-watched"]);
});

test("whatever moves is on the screen, whichever page lies open", () => {
  const rack = moving(spots(17));
  for (const keys of [[], ["tab"], ["tab"]])
    expect(
      rack
        .press(...keys)
        .page()
        .match(/moves now/g)?.length,
    ).toBe(6);
});

test("a wrong letter is taken back, and the right one pressed", () => {
  const rack = moving();
  rack.press("d", "u", "f");
  const presses = rack.rack.batch.members.map(({ session }) => session.view.steps[0]?.presses.length ?? 0);
  expect(presses.slice(0, 2)).toEqual([0, 1]);
});

test("a laser or ultraviolet source in the group is warned of before it moves, each kind once; LEDs are not", () => {
  const typist = opened();
  const { batch } = typist.rack;
  const members = batch.members.map((member, n) => {
    const { profile } = member.spot;
    const kind = n < 2 ? ("laser" as const) : n === 2 ? ("ultraviolet" as const) : profile.lamp.kind;
    return { ...member, spot: { ...member.spot, profile: { ...profile, lamp: { ...profile.lamp, kind } } } };
  });
  const page = typist.page({ batch: { ...batch, members } }).replaceAll(/\s+/g, " ");
  expect(page.match(/Laser inside:/g)).toHaveLength(1);
  expect(page.match(/Ultraviolet light harms/g)).toHaveLength(1);
  expect(typist.page()).not.toMatch(/Laser|Ultraviolet/);
});

test.each([
  {
    stage: "which it was",
    at: () => moving().press("space").playOut(),
    because: "the question keeps its place meanwhile",
  },
  {
    stage: "between the passes",
    at: () => STAGES["between the passes"]!(twelve),
    because: "somebody else may take over",
  },
  { stage: "pause", at: () => moving().press("w").playOut(), because: "whoever comes back is somebody else" },
])("initials are seen while they are typed, $stage: $because", ({ at }) => {
  const typist = at().press("i", "q");
  expect(typist.page()).toContain("Initials of who watches: q_  (ENTER: save, ESCAPE: cancel)");
  expect(typist.press("z", "enter").rack.batch.person).toBe("qz");
});

test("a terminal that is too small says so, what goes on, and which keys still work", () => {
  const page = moving()
    .page({ size: { columns: 60, rows: 20 } })
    .replaceAll(/\s+/g, " ");
  expect(page).toContain("Make it 80 by 24, or use --plain. Now: pan and tilt. One of 12 differs: SPACE");
});

describe("read aloud", () => {
  test("trouble with a rack is told once, as it is of one fixture", () => {
    const at = moving();
    const before = at.sight();
    at.rack.send({ kind: "remark", words: "the log cannot be written" });
    const after = at.sight();
    expect(changesInWords(before, after)).toEqual(["Trouble: the log cannot be written"]);
    expect(changesInWords(after, at.sight({ frame: 310 }))).toEqual([]);
  });

  test("what is typed is announced, and how it is saved", () => {
    const at = moving().press("w").playOut();
    const before = at.sight();
    expect(changesInWords(before, at.press("i").sight())).toEqual([
      "Type initials of who watches; ENTER saves it, ESCAPE cancels.",
    ]);
  });
});
