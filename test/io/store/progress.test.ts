import { join } from "node:path";
import { expect, onTestFinished, test } from "vitest";
import { progressInWords } from "../../../src/app/journal/with-journal.ts";
import { eventsOf } from "../../run/memory/happened.ts";
import { builtStore } from "./built-store.ts";
import { ownFolder } from "./folder.ts";

const { openJournal } = await builtStore();

test("a rebuild of a big journal tells how far it is, and ends with nothing left", async () => {
  const told: (readonly [taken: number, left: number])[] = [];
  const file = join(ownFolder(), "journal.db");
  const journal = await openJournal(file, undefined, (taken, left) => told.push([taken, left]));
  onTestFinished(() => journal.close());
  const events = Array.from({ length: 400 }, (_, n) =>
    eventsOf({ run: `run-${n}`, serial: `A-${n % 20}`, steps: [{ of: "Pan", result: "pass" }] }),
  ).flat();
  await Promise.all(events.map((event) => journal.append(event)));
  await journal.rebuild();
  expect(told.at(-1)?.[1]).toBe(0);
  const left = told.slice(told.findIndex(([taken]) => taken > 0)).map(([, rest]) => rest);
  expect(left).toEqual([...left].sort((a, b) => b - a));
  expect(told.length).toBeGreaterThan(1);
});

test.each([
  [500, 1500, "Reading: 500 events, 1500 left (25 %)"],
  [2000, 0, "Read: 2000 events."],
])("%i taken in and %i left: %s", (taken, left, words) => {
  expect(progressInWords(taken, left).trimEnd()).toBe(words);
  expect(progressInWords(taken, left).length).toBe(60);
});
