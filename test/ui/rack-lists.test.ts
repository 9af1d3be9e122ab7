import { describe, expect, test } from "vitest";
import { rackQuestionOf } from "../../src/run/batch/batch.ts";
import { linesOfAll } from "../../src/ui/phone/lines.ts";
import { phoneAnswers } from "../../src/ui/phone/offers.ts";
import { changesInWords, UNBROKEN } from "../../src/ui/sentences.ts";
import { clearDesk } from "../../src/ui/sight.ts";
import { DrivenRack, identifyingRack, spots } from "../kit/driven-rack.ts";
import { RACK_PLAN, RackTypist } from "./rack-typist.ts";
import { AGREE } from "./sights.ts";

/** What lists the fixtures of a rack lists all of them: at once, or page by page, and then it says so. */
const STEPS = ["{ sweep: [Pan, Tilt], seconds: 6, passes: 2 }", "{ sweep: Iris, seconds: 2, passes: 2 }"];
const SHELVES = ["top", "middle", "bottom", "floor"];

/** So many spots on four shelves, twelve on each DMX line, with serial numbers as they are stamped: MH-1001 and on. */
const rackOf = (count: number, steps: readonly string[] = STEPS): RackTypist =>
  new RackTypist(new DrivenRack({ ...fixturesOf(count), steps }).begin());
const asked = (count: number): RackTypist =>
  new RackTypist(
    identifyingRack({ ...fixturesOf(count), steps: [] })
      .begin()
      .untilStage("which"),
  );

const fixturesOf = (count: number) => {
  const lines = Array.from({ length: Math.ceil(count / 12) }, (_, n) => n + 1);
  const fixtures = lines
    .flatMap((universe) => spots(Math.min(12, count - 12 * (universe - 1)), universe, 1001 + 12 * (universe - 1)))
    .map((one, n) => one.replace("serial: S", "serial: MH-").replace("shelf: top", `shelf: ${SHELVES[n % 4]}`))
    .toSorted((a, b) => shelfOf(a) - shelfOf(b));
  return { fixtures, lines };
};
const shelfOf = (one: string) => SHELVES.findIndex((shelf) => one.includes(`shelf: ${shelf}`));

const poweredUp = (count: number) => rackOf(count, ["power-up: fixture", ...STEPS]);
const moving = (count: number) => rackOf(count).press(AGREE).playOut();
const until = (at: RackTypist, kind: string) => {
  at.rack.until(({ stage }) => stage.kind === kind);
  return at;
};

const PAGES: Readonly<Record<string, (count: number) => RackTypist>> = {
  "before anything moves": (count) => rackOf(count),
  "before the mains goes on": (count) => poweredUp(count).press(AGREE),
  "twelve move as they get power": (count) => poweredUp(count).press(AGREE, AGREE),
  "slow movement": (count) => rackOf(count).press(AGREE),
  "in movement": moving,
  "which one moved": asked,
  "which it was": (count) => moving(count).press("space").playOut(),
  "in a pause": (count) => moving(count).press("w").playOut(),
  "one picked in a pause": (count) => moving(count).press("w").playOut().press("g"),
  "asked what was watched": (count) => until(moving(count).press("f"), "confirming"),
  "between the passes": (count) => until(moving(count).press("f"), "between"),
  "a line is lost": (count) => {
    const at = moving(count);
    at.rack.send({ kind: "line-lost", universe: 1, words: "the cable is out" });
    return at;
  },
};

/** As many words of its own as a page can have to bear. */
const TROUBLE = {
  words: "the log cannot be written to /home/bench/limber.log: no space is left, write it to another disk",
  over: { refused: "too soon", quiet: 70, notice: "This system cannot speak: no voice was found." },
} as const;

const serialsOn = (page: string): readonly string[] => page.match(/\bMH-\d+/g) ?? [];

/** The rows of the list: they begin with a shelf, or set in under one. */
const listOn = (page: string): string => page.match(/^ {2}(?:top|middle|bottom|floor| {3}).*$/gm)?.join("\n") ?? "";

/** Each page of the list in turn, leafed through to its end. */
const leafedThrough = (at: RackTypist, over: Parameters<RackTypist["page"]>[0]): readonly string[] => {
  const first = at.page(over);
  const pages = Number(/TAB: next page, \d+ of (\d+)\./.exec(first)?.[1] ?? 1);
  return [first, ...Array.from({ length: pages - 1 }, () => at.press("tab").page(over))];
};

describe.each([12, 24, 48])("a rack of %i at 80 by 24", (count) => {
  const all = Array.from({ length: count }, (_, n) => `MH-${1001 + n}`);

  test.each(
    Object.entries(PAGES).flatMap(([page, at]) => [
      { page, at, over: {}, words: "" },
      { page: `${page}, with trouble`, at, ...TROUBLE },
    ]),
  )("$page: every fixture comes to the screen, and how to stop stays on it", ({ at, over, words }) => {
    const rack = at(count);
    if (words !== "") rack.rack.send({ kind: "remark", words });
    const pages = leafedThrough(rack, over);
    expect([...new Set(pages.flatMap(serialsOn))].toSorted()).toEqual(all);
    for (const page of pages) {
      const shown = serialsOn(listOn(page)).length;
      const more = pages.length === 1 ? "" : `${shown} of ${count} fixtures shown. TAB: next page,`;
      expect(page).toContain(more);
      expect(page).toMatch(/[Ss]tops? it all|Stop here|cancel/);
    }
  });

  test("the safety page names every fixture: from afar, read aloud and on a phone too", () => {
    const at = rackOf(count);
    const aloud = changesInWords(undefined, at.sight({ size: UNBROKEN })).join("\n");
    const phone = linesOfAll(at.sight())
      .map(({ text }) => text)
      .join("\n");
    const far = leafedThrough(at, { letters: "several rows high" }).join("\n");
    for (const told of [aloud, phone, far]) expect([...new Set(serialsOn(told))].toSorted()).toEqual(all);
  });
});

test("the safety page says of a fixture that was removed that it was", () => {
  const at = moving(24).press("w").playOut().press("g", "space").press(AGREE);
  expect(at.rack.batch.stage.kind).toBe("holding");
  expect(at.page()).toContain("MH-1009 (withdrawn)");
});

test.each([
  { page: "in a pause", at: PAGES["in a pause"]!, because: "any fixture can be taken out" },
  { page: "which one moved", at: asked, because: "at a wrong address any of them may move" },
])("$page every fixture has its letter on some page, and a touch on a phone: $because", ({ at }) => {
  const rack = at(24);
  const lettered = leafedThrough(rack, {}).flatMap((page) => page.match(/ [A-Z]2? +\d+ +MH-\d+/g) ?? []);
  expect(new Set(lettered.flatMap(serialsOn))).toHaveProperty("size", 24);

  const { batch } = at(24).rack;
  const answers = phoneAnswers(batch, clearDesk(rackQuestionOf(batch)), RACK_PLAN);
  const means = answers.map(({ keys }) => {
    const { desk, rack } = at(24).press(...keys);
    const { stage } = rack.batch;
    return stage.kind === "which" ? stage.named[0] : desk.picked;
  });
  expect(means.filter((index) => index !== undefined)).toHaveLength(24);
  for (const [at, index] of means.entries())
    if (index !== undefined) expect(answers[at]?.words).toContain(batch.members[index]?.serial);
});
