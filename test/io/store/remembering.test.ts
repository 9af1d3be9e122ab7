import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, onTestFinished, test } from "vitest";
import type { Case } from "../../../src/diagnosis/model/case.ts";
import { learn, wholeTrade } from "../../../src/diagnosis/model/learn.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import type { RunEvent } from "../../../src/run/events/event.ts";
import type { RunSummary } from "../../../src/run/events/summary.ts";
import type { Journal } from "../../../src/run/ports.ts";
import { shopRuns } from "../../bench/memory/shop.ts";
import { eventsOf } from "../../run/memory/happened.ts";
import { builtStore } from "./built-store.ts";
import { casesByReadingAll } from "./cases-by-reading-all.ts";
import { ownFolder } from "./folder.ts";
import { lives } from "./lives.ts";

const { openJournal } = await builtStore();
const opened = async () => {
  const journal = await openJournal(join(ownFolder(), "journal.db"));
  onTestFinished(() => journal.close());
  return journal;
};
const names = (briefs: readonly RunSummary[]) => briefs.map(({ run }) => run);

describe.each([
  { name: "on disk", open: opened },
  { name: "in memory", open: async (): Promise<Journal> => memoryJournal() },
])("a journal $name", ({ open }) => {
  test("tells runs in brief: all, of one fixture, or by the beginning of a name", async () => {
    const journal = await open();
    const runs = [
      { run: "b-2", serial: "A'%_1" },
      { run: "b-1", serial: "A-2" },
      { run: "B-3", serial: "A'%_1" },
    ];
    for (const event of runs.flatMap(eventsOf)) await journal.append(event);
    expect(names(await journal.briefs({ kind: "all" }))).toEqual(["b-2", "b-1", "B-3"]);
    expect(names(await journal.briefs({ kind: "fixture", serial: "A'%_1" }))).toEqual(["b-2", "B-3"]);
    expect(names(await journal.briefs({ kind: "fixture", serial: "A%" }))).toEqual([]);
    expect(names(await journal.briefs({ kind: "fixture", serial: " a'%_1\u200b" }))).toEqual(["b-2", "B-3"]);
    expect(names(await journal.briefs({ kind: "named", beginning: "b-" }))).toEqual(["b-2", "b-1"]);
    expect(names(await journal.briefs({ kind: "named", beginning: "b_" }))).toEqual([]);
  });

  test("knows one fixture by its serial number however it was spelt in each run", async () => {
    const journal = await open();
    const runs = [
      { run: "1", serial: "A-17" },
      { run: "2", serial: "a-17 " },
      { run: "3", serial: "A\u200b-17" },
      { run: "4", serial: "A-1" },
    ];
    for (const event of runs.flatMap(eventsOf)) await journal.append(event);
    expect(names(await journal.briefs({ kind: "fixture", serial: "A-17" }))).toEqual(["1", "2", "3"]);
    expect([...(await journal.standings({ kind: "all" })).keys()].sort()).toEqual(["a-1", "a-17"]);
    const past = await journal.past("A-17");
    expect(new Set(past.map(({ run }) => run))).toEqual(new Set(["1", "2", "3"]));
  });

  test("tells the latest runs in which somebody with initials pressed", async () => {
    const journal = await open();
    const pressed = { kind: "pressed", step: "sweep Pan", attempt: 1, frame: 1, after_s: 1 } as const;
    const steps = [{ of: "Pan", result: "unsure" }] as const;
    for (const [run, person, after] of [
      ["1", "KM", [pressed]],
      ["2", "KM", []],
      ["3", "", [pressed]],
      ["4", "JD", [pressed]],
      ["5", "KM", [pressed]],
    ] as const)
      for (const event of eventsOf({ run, person, steps, after })) await journal.append(event);
    expect(names(await journal.briefs({ kind: "pressed", latest: 9 }))).toEqual(["1", "4", "5"]);
    expect(names(await journal.briefs({ kind: "pressed", latest: 2 }))).toEqual(["4", "5"]);
    expect(names(await journal.briefs({ kind: "pressed", latest: 0 }))).toEqual([]);
  });

  test("a correction written a moment ago is in the next answer", async () => {
    const journal = await open();
    const events = eventsOf({ run: "one", steps: [{ of: "Pan", result: "fail" }], ended: "open" });
    for (const event of events) await journal.append(event);
    expect((await journal.briefs({ kind: "all" }))[0]?.steps[0]?.result).toBe("fail");
    await journal.append({ ...events[0]!, id: "c", body: { kind: "step-corrected", step: "sweep Pan", attempt: 1 } });
    expect((await journal.briefs({ kind: "all" }))[0]?.steps[0]?.result).toBe("not-asked");
  });
});

test("on disk and in memory are told alike", async () => {
  await fc.assert(
    fc.asyncProperty(lives, async (events) => {
      const [disk, memory] = [await openJournal(join(ownFolder(), "journal.db")), memoryJournal()];
      for (const journal of [disk, memory]) await Promise.all(events.map((event) => journal.append(event)));
      expect(await disk.briefs({ kind: "all" })).toEqual(await memory.briefs({ kind: "all" }));
      for (const journal of [disk, memory])
        expect(taught(await journal.cases())).toEqual(taught(casesByReadingAll(events)));
      for (const which of [{ kind: "all" }, { kind: "fixture", serial: "A-2" }] as const)
        expect(await disk.standings(which)).toEqual(await memory.standings(which));
      await disk.close();
    }),
    { numRuns: 15 },
  );
});

test("what a shop's finds teach is what reading every event teaches, to the last digit", async () => {
  const journal = await opened();
  const runs = [...shopRuns(35 * 12)];
  const events = [...runs.flat(), ...replayOf(runs[0]!, runs[1]!)];
  await Promise.all(events.map((event) => journal.append(event)));
  const cases = await journal.cases();
  const found = cases.filter(({ confirmed }) => confirmed.length > 0);
  expect(found.map(({ rest }) => rest)).toEqual(["absent", "unknown", "unknown", "unknown"]);
  expect(cases.length).toBeGreaterThan(found.length);
  expect(taught(cases)).toEqual(taught(casesByReadingAll(events)));
});

/** The shop's numbers, which is all that cases are for. */
const taught = (cases: readonly Case[]) => learn(wholeTrade(), cases);

/** The first run again, passed as this other one was. */
const replayOf = ([first]: readonly RunEvent[], passed: readonly RunEvent[]): readonly RunEvent[] =>
  passed.map((event) => {
    const { body } = event;
    const again = body.kind === "run-opened" ? { ...body, replays: first!.run } : body;
    return { ...event, run: "again", id: `again-${event.id}`, body: again };
  });

test("a rebuild says how many events, runs and fixtures there are", async () => {
  const journal = await opened();
  const events = [{ run: "one" }, { run: "two" }].flatMap(eventsOf);
  await Promise.all(events.map((event) => journal.append(event)));
  const before = await journal.briefs({ kind: "all" });
  expect(await journal.rebuild()).toEqual({ events: events.length, runs: 2, fixtures: 1 });
  expect(await journal.briefs({ kind: "all" })).toEqual(before);
});
