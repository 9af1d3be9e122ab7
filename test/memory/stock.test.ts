import { describe, expect, test } from "vitest";
import { stockOf } from "../../src/memory/stock.ts";
import { minutesOf } from "../../src/record/at-work.ts";
import { briefFrom, foundBody, type Happened } from "./happened.ts";

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
    ended: "stopped",
  },
];
const stock = stockOf(SHOP.map(briefFrom), "real");

describe("the stock", () => {
  test("has every fixture once, by serial number, as it stands after its last run", () => {
    expect(stock.fixtures.map(({ serial, standing, runs, run }) => [serial, standing, runs, run])).toEqual([
      ["A-1", "failed", 3, "3"],
      ["A-2", "passed", 2, "5"],
      ["B-1", "failed", 1, "6"],
    ]);
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
  const odd = [
    briefFrom({ run: "7", ...failed, simulated: true }),
    briefFrom({ run: "8", ...failed, serial: "unknown" }),
  ];
  const mixed = stockOf([...SHOP.map(briefFrom), ...odd], "real");
  expect({ ...mixed, leftOut: undefined }).toEqual({ ...stock, leftOut: undefined });
  expect(mixed.leftOut).toEqual({ otherKind: 1, withoutSerial: 1 });
  expect(stockOf(odd, "simulated")).toMatchObject({ simulated: true, fixtures: [{ serial: "A-17" }] });
});
