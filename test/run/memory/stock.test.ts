import { describe, expect, test } from "vitest";
import { minutesOf } from "../../../src/run/events/summary.ts";
import { stockOf } from "../../../src/run/memory/stock.ts";
import { briefFrom, foundBody, type Happened, standingFrom, standingsFrom } from "./happened.ts";

const passed = { steps: [{ of: "Pan", result: "pass" }] } as const satisfies Partial<Happened>;
const failed = { steps: [{ of: "Pan", result: "fail" }] } as const satisfies Partial<Happened>;
const day = (n: number) => `2026-11-${String(n).padStart(2, "0")}T09:00:00.000Z`;

/** A-1 was mended and came back with the same; A-2 was mended and is well; B-1, of another kind, waits for two parts. */
const SHOP: readonly Happened[] = [
  { run: "1", serial: "A-1", at: day(2), ...failed, after: [foundBody("pan-belt-slack")] },
  { run: "2", serial: "A-1", at: day(3), ...passed, replays: "1" },
  { run: "3", serial: "A-1", at: day(20), ...failed, after: [foundBody("pan-belt-slack")] },
  { run: "4", serial: "A-2", at: day(4), ...failed, after: [foundBody("pan-belt-slack")] },
  { run: "5", serial: "A-2", at: day(5), ...passed, replays: "4" },
  {
    run: "6",
    serial: "B-1",
    profile: "wash",
    at: day(6),
    ...failed,
    after: [foundBody("pan-belt-slack"), foundBody("iris-leaf-bent")],
    ended: "open",
  },
];
const stocked = (happened: readonly Happened[], kind: "real" | "simulated" = "real") =>
  stockOf(happened.map(briefFrom), standingsFrom(...happened), kind);
const stock = stocked(SHOP);

describe("the stock", () => {
  test("has every fixture once, by serial number, where the rules of release put it, and why", () => {
    expect(stock.fixtures.map(({ serial, state, runs, run }) => [serial, state, runs, run])).toEqual([
      ["A-1", "needs-work", 3, "3"],
      ["A-2", "needs-work", 2, "5"],
      ["B-1", "in-work", 1, "6"],
    ]);
    for (const { serial, because } of stock.fixtures)
      expect(because).toEqual(standingFrom(serial, ...SHOP).reasons.map(({ words }) => words));
  });

  test("counts what was found by fault and kind of fixture, the commonest first", () => {
    expect(stock.faults).toEqual([
      { fault: "pan-belt-slack", profile: "spot", found: 3, serials: ["A-1", "A-2"] },
      { fault: "pan-belt-slack", profile: "wash", found: 1, serials: ["B-1"] },
      { fault: "iris-leaf-bent", profile: "wash", found: 1, serials: ["B-1"] },
    ]);
  });

  test("names a part once for each fixture that waits for it, and none for what has passed since", () => {
    expect(stock.parts.map(({ part, fixtures }) => [part, fixtures.map(({ serial }) => serial)])).toEqual([
      ["pan belt", ["A-1", "B-1"]],
      ["iris", ["B-1"]],
    ]);
  });

  test("a repair written down after the find ends the waiting; one from before it does not", () => {
    const repaired = {
      kind: "repaired",
      what: "fault",
      fault: "pan-belt-slack",
      part: "pan belt",
      minutes: 20,
      initials: "KM",
      note: "",
    } as const;
    const waiting = (after: Happened["after"] & object) =>
      stocked([{ run: "1", serial: "C-1", at: day(2), ...failed, after }]).parts.map(({ part }) => part);
    const find = foundBody("pan-belt-slack");
    expect(waiting([find, repaired])).toEqual([]);
    expect(waiting([repaired, find])).toEqual(["pan belt"]);
  });

  test("reckons mean minutes of finished runs only, by sequence and kind", () => {
    // Minutes between the events: 4 with a find, 3 without.
    expect(stock.minutes).toEqual([{ sequence: "short", profile: "spot", runs: 5, mean: (4 + 3 + 4 + 4 + 3) / 5 }]);
  });

  test("shows which fixture came back with the same fault, and after how long", () => {
    expect(stock.returning).toMatchObject([{ serial: "A-1", profile: "spot", fault: "pan-belt-slack", times: 1 }]);
    expect(stock.returning[0]?.hours).toBeCloseTo(18 * 24 - 4 / 60, 9);
  });
});

test("a night in the middle of a run is no work, and neither is a clock that was set back", () => {
  const times = ["09:00", "09:10", "18:00", "18:05", "17:00", "17:02"].map((at) => `2026-11-02T${at}:00.000Z`);
  expect(minutesOf(times)).toBe(10 + 5 + 2);
});

test("simulated runs and runs without a serial number count for no real fixture, and it is said how many they are", () => {
  const odd: readonly Happened[] = [
    { run: "7", ...failed, simulated: true },
    { run: "8", ...failed, serial: "unknown" },
    { run: "9", ...failed, serial: "A-1", simulated: true },
  ];
  const mixed = stocked([...SHOP, ...odd]);
  expect({ ...mixed, leftOut: undefined }).toEqual({ ...stock, leftOut: undefined });
  expect(mixed.leftOut).toEqual({ otherKind: 2, withoutSerial: 1 });
  expect(stocked([...SHOP, ...odd], "simulated")).toMatchObject({ simulated: true, fixtures: [{ serial: "A-17" }] });
});

test("a part that was put in is wanted no more, also before the fixture has passed; how long it took is reckoned", () => {
  const repair = (minutes: number) =>
    ({
      kind: "repaired",
      what: "fault",
      fault: "pan-belt-slack",
      part: "pan belt",
      minutes,
      initials: "JD",
      note: "",
    }) as const;
  const mended = (serial: string, minutes: number): Happened => ({
    run: serial,
    serial,
    ...failed,
    after: [foundBody("pan-belt-slack"), repair(minutes), foundBody("iris-leaf-bent")],
  });
  const after = stocked([mended("A-1", 20), mended("A-2", 30)]);
  expect(after.parts.map(({ part, fixtures }) => [part, fixtures.length])).toEqual([["iris", 2]]);
  expect(after.mending).toEqual([{ mended: "pan-belt-slack", times: 2, mean: 25 }]);
});
