import { join } from "node:path";
import { expect, onTestFinished, test } from "vitest";
import { progressInWords } from "../../../src/app/journal/with-journal.ts";
import type { ToldProgress } from "../../../src/io/store/remembering.ts";
import { eventsOf } from "../../run/memory/happened.ts";
import { builtStore } from "./built-store.ts";
import { ownFolder } from "./folder.ts";

const { openJournal } = await builtStore();

test("a rebuild of a big journal tells how far it is, and ends with nothing left", async () => {
  const told: Told[] = [];
  const file = join(ownFolder(), "journal.db");
  const journal = await openJournal(file, undefined, (...one) => told.push(one));
  onTestFinished(() => journal.close());
  const events = Array.from({ length: 400 }, (_, n) =>
    eventsOf({ run: `run-${n}`, serial: `A-${n % 20}`, steps: [{ of: "Pan", result: "pass" }] }),
  ).flat();
  await Promise.all(events.map((event) => journal.append(event)));
  await journal.rebuild();
  for (const what of ["events", "fixtures"] as const) {
    const left = told.filter(([, , of]) => of === what).map(([, rest]) => rest);
    expect(left.length, what).toBeGreaterThan(1);
    expect(left, what).toEqual([...left].sort((a, b) => b - a));
    expect(left.at(-1), what).toBe(0);
  }
  expect(told.filter(([, , of]) => of === "fixtures")).toEqual([
    [5, 15, "fixtures"],
    [10, 10, "fixtures"],
    [15, 5, "fixtures"],
    [20, 0, "fixtures"],
  ]);
});

type Told = Parameters<ToldProgress>;

test.each<[...Told, words: string]>([
  [500, 1500, "events", "Reading: 500 events, 1500 left (25 %)"],
  [2000, 0, "events", "Read: 2000 events."],
  [5, 15, "fixtures", "Calculating: 5 fixtures, 15 left (25 %)"],
  [20, 0, "fixtures", "Calculated: 20 fixtures."],
])("%i done and %i left of the %s: %s", (done, left, of, words) => {
  expect(progressInWords(done, left, of).trimEnd()).toBe(words);
  expect(progressInWords(done, left, of).length).toBe(60);
});
