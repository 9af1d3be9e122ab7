import { expect, test } from "vitest";
import { rackSheetFrom } from "../../../src/app/rack/rack-sheet.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { rackPage } from "../../../src/reports/page/rack-page.ts";
import { tellRackSheet } from "../../../src/reports/rack-sheet.ts";
import { stateAtEnd } from "../../../src/run/batch/members.ts";
import { EVENT_VERSION } from "../../../src/run/events/event.ts";
import { finishedOfAll } from "../../../src/ui/waiting-rows.ts";
import { DrivenRack, spots } from "../../kit/driven-rack.ts";
import { sightOfAll } from "../../ui/sights.ts";

/** However a rack run ends, its last screen, its sheet and its page say the same of every fixture. */

const STEPS = ["{ sweep: Pan, seconds: 3, passes: 2 }", "{ sweep: Tilt, seconds: 3, passes: 2 }"];
const moving = (): DrivenRack => new DrivenRack({ fixtures: spots(3), steps: STEPS }).begin().untilStage("moving");
const press = { kind: "press" };
const stop = { kind: "stop" };

/** What the last screen says, without its rows. */
const screenOf = ({ batch }: DrivenRack): string => {
  const { stage } = batch;
  if (stage.kind !== "finished") throw new Error("the run is not over");
  const { above } = finishedOfAll(sightOfAll(batch), stage);
  return above.flatMap((line) => (line.kind === "words" ? [line.text] : [])).join(" ");
};

/** The sheet that is made from what was written of every fixture. */
const sheetOf = async ({ batch, effects }: DrivenRack) => {
  const journal = memoryJournal();
  for (const [number, effect] of effects.entries()) {
    if (effect.kind !== "write") continue;
    const { run, body, person } = effect;
    const at = new Date(Date.UTC(2026, 10, 28, 20, 0, number)).toISOString();
    await journal.append({ id: `b/${number}`, v: EVENT_VERSION, bench: "b", person, at, run, body });
  }
  return rackSheetFrom(journal, batch, undefined);
};

const NOTHING_WRONG = "Nothing wrong was seen";

test.each([
  {
    because: "pressed for by its letter, and stopped while it moved",
    run: () => moving().differs("S2", 90).send(stop, 120),
    states: ["not finished", "suspect", "not finished"],
    says: ["One is a suspect, not described yet"],
  },
  {
    because: "pressed for, confirmed, and stopped before it was looked at alone",
    run: () => moving().differs("S2", 90).untilStage("between").send(stop),
    states: ["nothing seen", "suspect", "nothing seen"],
    says: ["One is a suspect, not described yet"],
  },
  {
    because: "one of them, and stopped before it was asked which",
    run: () => moving().send(press, 90).send(press, 95).send(stop, 120),
    states: ["not finished", "not finished", "not finished"],
    says: ["Pressed 2 times for one of S1, S2, S3: not said which one."],
  },
  {
    because: "one of them, and stopped when it was asked which",
    run: () => moving().send(press, 90).untilStage("which").send(stop),
    states: ["not finished", "not finished", "not finished"],
    says: ["Pressed once for one of S1, S2, S3: not said which one."],
  },
  {
    because: "one of them, played again, and stopped",
    run: () => moving().send(press, 90).send({ kind: "again" }, 95).send(stop, 20),
    states: ["not finished", "not finished", "not finished"],
    says: ["Pressed once for one of S1, S2, S3: not said which one."],
  },
  {
    because: "one of them, and the line was lost and stopped",
    run: () =>
      moving().send(press, 90).send({ kind: "line-lost", universe: 1, words: "the cable is out" }, 95).send(stop),
    states: ["not finished", "not finished", "not finished"],
    says: ["Pressed once for one of S1, S2, S3: not said which one."],
  },
])("$because: the screen, the sheet and the page say it", async ({ run, states, says }) => {
  const rack = run();
  expect(rack.batch.members.map(stateAtEnd)).toEqual(states);
  const sheet = await sheetOf(rack);
  expect(sheet.fixtures.map(({ state }) => state)).toEqual(states);
  for (const words of says) {
    expect(screenOf(rack)).toContain(words);
    expect(tellRackSheet(sheet).replaceAll(/\s+/g, " ")).toContain(words);
    expect(rackPage(sheet).toLowerCase()).toContain(words.replace("One is a ", "").toLowerCase());
  }
  expect(tellRackSheet(sheet)).not.toContain(NOTHING_WRONG);
});

test("one of them, named after all in a second playing: the press is no longer open", async () => {
  const rack = moving().send(press, 90).send({ kind: "again" }, 95).playOut().untilStage("finished");
  expect((await sheetOf(rack)).unnamed).toEqual([]);
  expect(tellRackSheet(await sheetOf(rack))).toContain(NOTHING_WRONG);
});

test("pressed for in the group, and found good when it was looked at alone: nothing seen", async () => {
  const rack = moving().differs("S2", 90).untilStage("finished");
  expect(rack.batch.members.map(stateAtEnd)).toEqual(["nothing seen", "nothing seen", "nothing seen"]);
  expect(tellRackSheet(await sheetOf(rack))).toContain("Nothing seen: S1, S2, S3");
});

test("stopped at once: nothing was watched, and nothing is said to be good", async () => {
  const rack = moving().send(stop, 20);
  for (const told of [tellRackSheet(await sheetOf(rack)), screenOf(rack)])
    expect(told).toContain("Nothing was watched to its end: nothing can be said of any fixture.");
});

test("nobody was there: finished, and no fixture is called watched or good", async () => {
  const rack = moving().untilStage("confirming").send({ kind: "decline" }).untilStage("finished");
  expect(rack.batch.members.map(stateAtEnd)).toEqual(["not watched", "not watched", "not watched"]);
  expect(screenOf(rack)).toContain("3 fixtures were not watched: nothing can be said of them.");
  const told = tellRackSheet(await sheetOf(rack)).replaceAll(/\s+/g, " ");
  expect(told).toContain("Not watched, nothing can be said: S1, S2, S3");
  expect(told).not.toContain(NOTHING_WRONG);
});
