import { describe, expect, test } from "vitest";
import { playSimulated, simulatedJob } from "../../src/app/simulated/start.ts";
import { plannedOnly, type TriedCase, tryCase } from "../../src/app/simulated/trial-case.ts";
import { reportOf } from "../../src/app/simulated/trial-report.ts";
import type { Offer } from "../../src/diagnosis/model/offer.ts";
import { COVERS } from "../../src/domain/trade/hold-points.ts";
import { inspection } from "../../src/domain/trade/inspections.ts";
import { fileLibrary } from "../../src/io/files/files.ts";
import { memoryJournal } from "../../src/io/store/memory.ts";
import { addedTests } from "../../src/run/events/step-results.ts";
import type { DiagnosisDoor } from "../../src/run/ports.ts";
import { systemSignals } from "../../src/run/shell/signals.ts";
import { EXACT } from "../../src/sim/observer/habits.ts";
import { diagnosed } from "../kit/diagnosed.ts";
import { offeredLook, offeredSweep } from "../kit/offers.ts";
import { must, shippedProfile } from "../kit/shipped.ts";

/**
 * What a trial does with offers, by the pages that anybody has: the test says what is offered, so that nothing here hangs on
 * the numbers of the model.
 */
const NAMES = { profile: "spot-16bit", sequence: "first-look", bench: "level" };

/** The first of these is offered at first, the next after each thing that was done. */
const offering = (...turns: readonly (readonly Offer[])[]): DiagnosisDoor => ({
  ask: async (findings) => {
    const { view } = findings;
    const offers = turns[view.inspected.length + addedTests(view).length] ?? [];
    const advice = offers.length > 0 ? { kind: "offers" as const, offers } : { kind: "nothing-worth-asking" as const };
    return { ...diagnosed(findings), places: [], advice };
  },
  close: async () => {},
});

const tried = (followUps: number, diagnosis: DiagnosisDoor, ...set: readonly string[]): Promise<TriedCase> =>
  tryCase(fileLibrary(), NAMES, followUps, { kind: "one", set, seed: 3 }, diagnosis);

/** The case as it is when nothing that is offered is done. */
const unfollowed = (...set: readonly string[]): Promise<TriedCase> => tried(0, offering(), ...set);

const IRIS = "iris-leaf-kinked";
const done = ({ inspected, tests, followUps, closedAfter }: TriedCase) => ({
  inspected: inspected.map(({ inspection: id, answer }) => `${id}: ${answer}`),
  tests: tests.map(({ name }) => name),
  addedSteps: followUps,
  closedAfter,
});
const inspectedMinutes = (one: TriedCase): number =>
  reportOf([one], shippedProfile("spot-16bit")).withFollowUps.inspectedMinutes;

describe("what is offered is done as far as is asked for, tests and inspections alike", () => {
  test("an inspection at the panel leaves the mains on: a test is driven after it, without another power-up", async () => {
    const one = await tried(2, offering([offeredLook("menu-hours")], [offeredSweep("Iris")]), IRIS);
    expect(done(one)).toEqual({
      inspected: ["menu-hours: good"],
      tests: ["sweep"],
      addedSteps: 1,
      closedAfter: [1],
    });
    expect(one.observations.at(-1)).toMatchObject({ routine: "sweep", functions: [{ function: "Iris" }] });
    expect(inspectedMinutes(one)).toBe(inspection("menu-hours").minutes);
  });

  test("after an inspection behind a cover it is closed, mains returns and is watched, and then the test is driven", async () => {
    const one = await tried(2, offering([offeredLook("iris-leaves")], [offeredSweep("Iris")]), IRIS);
    expect(done(one)).toEqual({
      inspected: ["iris-leaves: bad"],
      tests: ["sweep"],
      addedSteps: 2,
      closedAfter: [1],
    });
    expect(one.observations.slice(-2).map(({ routine }) => routine)).toEqual(["power-up", "sweep"]);
    expect(one.watchedMinutes).toBeGreaterThan((await unfollowed(IRIS)).watchedMinutes + 0.5);
  });

  test("what was seen before stays as it was seen, and is judged first without any of it", async () => {
    const before = await unfollowed(IRIS);
    const one = await tried(
      3,
      offering([offeredLook("iris-leaves")], [offeredSweep("Iris")], [offeredLook("menu-hours")]),
      IRIS,
    );
    expect(plannedOnly(one)).toEqual(before.observations);
    expect(one.rankedBefore).toEqual(before.ranked);
    expect(one.quiet).toBe(before.quiet);
    expect(one.ranked).not.toEqual(before.ranked);
  });

  test("the count is of tests and inspections together", async () => {
    const one = await tried(1, offering([offeredLook("menu-hours")], [offeredSweep("Iris")]), IRIS);
    expect(done(one)).toEqual({ inspected: ["menu-hours: good"], tests: [], addedSteps: 0, closedAfter: [] });
  });
});

test("by the time mains returns a hot lamp has cooled: what is driven then is seen in the light", async () => {
  const order = { names: NAMES, address: 1, set: [IRIS], seed: 3, drawFrom: "all", copy: "made" } as const;
  const made = must(simulatedJob(fileLibrary(), order, "attended"));
  const lit: boolean[] = [];
  made.bench.line.scenes(([first]) => lit.push(first?.scene.picture.lit ?? false));
  const person = { seed: 3, habits: EXACT, followUps: 2 };
  const offers = offering([offeredLook("iris-leaves")], [offeredSweep("Iris")]);
  await playSimulated(made, "r", memoryJournal(), person, systemSignals, offers);
  expect(lit).toContain(false);
  expect(lit.at(-1)).toBe(true);
});

describe("what is left, and what is not to be had", () => {
  test("a measurement is passed over, and a test longer than its patience: the next is done", async () => {
    const one = await tried(
      1,
      offering([offeredLook("earth-continuity"), offeredSweep("Pan", 901), offeredSweep("Iris")]),
      IRIS,
    );
    expect(done(one)).toEqual({ inspected: [], tests: ["sweep"], addedSteps: 1, closedAfter: [] });
  });

  test("a danger that was found forbids mains: the test that was chosen after it is not run", async () => {
    const dead = "pan-output-burnt";
    const one = await tried(2, offering([offeredLook("driver-marks")], [offeredSweep("Pan")]), dead);
    expect(done(one)).toEqual({ inspected: ["driver-marks: bad"], tests: [], addedSteps: 0, closedAfter: [] });
    expect(one.observations).toEqual((await unfollowed(dead)).observations);
  });
});

test("minutes watched are those of the sequence, whatever it has that this fixture has not", async () => {
  const planned = { kind: "clean", set: [], seed: 3 } as const;
  const one = await tryCase(fileLibrary(), { ...NAMES, sequence: "quick" }, 0, planned, offering());
  // As the sequence is announced for this fixture: 3.9 minutes.
  expect(one.watchedMinutes).toBeGreaterThan(3.5);
  expect(one.watchedMinutes).toBeLessThan(4.5);
});

describe("minutes by hand", () => {
  test("two inspections behind one cover pay for it once, as long as it stays off", async () => {
    const one = await tried(2, offering([offeredLook("iris-leaves")], [offeredLook("gobo-springs")]), IRIS);
    expect(one.closedAfter).toEqual([]);
    const looks = inspection("iris-leaves").minutes + inspection("gobo-springs").minutes;
    expect(inspectedMinutes(one)).toBe(COVERS.head.minutes + looks);
  });

  test("driven in between, it comes off twice", async () => {
    const one = await tried(
      3,
      offering([offeredLook("iris-leaves")], [offeredSweep("Iris")], [offeredLook("gobo-springs")]),
      IRIS,
    );
    expect(one.closedAfter).toEqual([1]);
    const looks = inspection("iris-leaves").minutes + inspection("gobo-springs").minutes;
    expect(inspectedMinutes(one)).toBe(2 * COVERS.head.minutes + looks);
  });
});

test("whoever ends a trial ends it in the middle of a case: no case listens for signals, so that none is kept half done", async () => {
  const before = process.listenerCount("SIGTERM");
  const during = new Set<number>();
  const door = offering([offeredLook("iris-leaves")]);
  const listening: DiagnosisDoor = {
    ...door,
    ask: (findings) => {
      during.add(process.listenerCount("SIGTERM"));
      return door.ask(findings);
    },
  };
  await tried(1, listening, "iris-leaf-kinked");
  expect([...during]).toEqual([before]);
});
