import fc from "fast-check";
import { expect, test } from "vitest";
import { planAddresses } from "../../../src/data/rack/addresses.ts";
import type { Rack, RackFixture, StartAddress } from "../../../src/data/rack/rack.ts";
import { shippedProfile, shippedRack } from "../../kit/shipped.ts";

const DEMO = shippedRack("demo");
const SPOT = shippedProfile("spot-16bit");
const kind = (slots: number, unitLoads = 1) => ({ ...SPOT, name: `of-${slots}`, slots, unitLoads });
const fixture = (serial: string, slots: number, more: Partial<RackFixture> = {}): RackFixture => ({
  serial,
  profile: kind(slots),
  place: { shelf: "top", position: serial },
  start: undefined,
  ganged: false,
  uid: undefined,
  branch: undefined,
  circuit: undefined,
  ...more,
});
const rackOf = (universes: number, fixtures: readonly RackFixture[]): Rack => ({
  ...DEMO,
  lines: Array.from({ length: universes }, (_, index) => ({ universe: index + 1, output: "sim", to: undefined })),
  fixtures,
});
const at = (universe: number, slot: number): StartAddress => ({ universe, slot });
const starts = (rack: Rack, existing: "keep" | "anew" = "anew") =>
  planAddresses(rack, existing).fixtures.map(({ start }) => (start ? `${start.universe}/${start.slot}` : "none"));

test("fixtures follow each other in the order of the rack, and one that does not fit any more opens the next universe", () => {
  const rack = rackOf(2, [fixture("a", 200), fixture("b", 200), fixture("c", 200), fixture("d", 112)]);
  expect(starts(rack)).toEqual(["1/1", "1/201", "2/1", "1/401"]);
});

test("a fixture may end at 512, and one that would end at 513 goes to the next universe", () => {
  expect(starts(rackOf(2, [fixture("a", 482), fixture("b", 31), fixture("c", 30)]))).toEqual(["1/1", "2/1", "1/483"]);
});

test("kept addresses stay and the others fill the gaps between them", () => {
  const rack = rackOf(1, [fixture("a", 30), fixture("b", 30, { start: at(1, 31) }), fixture("c", 30)]);
  expect(starts(rack, "keep")).toEqual(["1/1", "1/31", "1/61"]);
  expect(starts(rack)).toEqual(["1/1", "1/31", "1/61"]);
  const late = rackOf(1, [fixture("a", 30), fixture("b", 30, { start: at(1, 21) }), fixture("c", 20)]);
  expect(starts(late, "keep")).toEqual(["1/51", "1/21", "1/1"]);
});

test.each([
  { because: "an earlier one is there", start: at(1, 20), gets: "1/31" },
  { because: "it ends past 512", start: at(1, 500), gets: "1/31" },
  { because: "its universe has no DMX line", start: at(7, 1), gets: "1/31" },
  { because: "nothing speaks against it", start: at(1, 400), gets: "1/400" },
])("an address to be kept: $because", ({ start, gets }) => {
  const rack = rackOf(1, [fixture("a", 30, { start: at(1, 1) }), fixture("b", 30, { start })]);
  expect(starts(rack, "keep")).toEqual(["1/1", gets]);
});

test("ganged fixtures of a kind share one address, other kinds have theirs", () => {
  const gang = { ganged: true };
  const rack = rackOf(1, [fixture("a", 30, gang), fixture("b", 20, gang), fixture("c", 30, gang), fixture("d", 30)]);
  expect(starts(rack)).toEqual(["1/1", "1/31", "1/1", "1/51"]);
});

/** ANSI E1.11: 32 unit loads on a line (secondary source). */
test("the 33rd fixture of one unit load goes to the next universe, unless it hangs on a splitter", () => {
  const small = (count: number, branch?: (index: number) => string) =>
    Array.from({ length: count }, (_, index) => fixture(`f${index}`, 8, { branch: branch?.(index) }));
  expect(starts(rackOf(2, small(33))).slice(-2)).toEqual(["1/249", "2/1"]);
  expect(
    starts(
      rackOf(
        2,
        small(33, (index) => (index % 2 === 0 ? "left" : "right")),
      ),
    ).at(-1),
  ).toBe("1/257");
});

test("what finds no room has no address in the plan and is named", () => {
  const plan = planAddresses(rackOf(1, [fixture("a", 300), fixture("b", 300), fixture("c", 200)]), "anew");
  expect(plan.left.map(({ serial }) => serial)).toEqual(["b"]);
  expect(plan.fixtures.map(({ start }) => start?.slot)).toEqual([1, undefined, 301]);
});

const anyFixture = fc.record({
  slots: fc.integer({ min: 1, max: 60 }),
  loads: fc.constantFrom(1, 0.25),
  ganged: fc.boolean(),
  branch: fc.constantFrom(undefined, "left", "right"),
  start: fc.option(fc.record({ universe: fc.integer({ min: 1, max: 4 }), slot: fc.integer({ min: 1, max: 512 }) }), {
    nil: undefined,
  }),
});
const anyRack = fc
  .record({ universes: fc.integer({ min: 1, max: 3 }), fixtures: fc.array(anyFixture, { maxLength: 60 }) })
  .map(({ universes, fixtures }) =>
    rackOf(
      universes,
      fixtures.map(({ slots, loads, ...more }, index) => ({
        ...fixture(`f${index}`, slots, more),
        profile: kind(slots, loads),
      })),
    ),
  );
const anyWay = fc.constantFrom("keep" as const, "anew" as const);

/** Slot by slot, without a look at how the plan is made. */
test("no slot of a universe is heard by two kinds or by two fixtures that do not share it on purpose, and none is past 512", () => {
  fc.assert(
    fc.property(anyRack, anyWay, (rack, existing) => {
      const heard = new Map<string, string>();
      for (const { serial, start, profile, ganged } of planAddresses(rack, existing).fixtures) {
        if (!start) continue;
        const owner = ganged ? `gang of ${profile.name} at ${start.slot}` : serial;
        for (let slot = start.slot; slot < start.slot + profile.slots; slot++) {
          expect(slot).toBeLessThanOrEqual(512);
          const before = heard.get(`${start.universe}/${slot}`);
          expect(before ?? owner).toBe(owner);
          heard.set(`${start.universe}/${slot}`, owner);
        }
      }
    }),
  );
});

test("no stretch of cable drives more than 32 unit loads", () => {
  fc.assert(
    fc.property(anyRack, anyWay, (rack, existing) => {
      const sums = new Map<string, number>();
      for (const { start, branch, profile } of planAddresses(rack, existing).fixtures) {
        if (!start) continue;
        const stretch = `${start.universe} ${branch ?? "itself"}`;
        sums.set(stretch, (sums.get(stretch) ?? 0) + profile.unitLoads);
      }
      expect(Math.max(0, ...sums.values())).toBeLessThanOrEqual(32);
    }),
  );
});

test("a plan that is kept stays as it is", () => {
  fc.assert(
    fc.property(anyRack, anyWay, (rack, existing) => {
      const once = planAddresses(rack, existing).fixtures;
      expect(starts({ ...rack, fixtures: once }, "keep").filter((one) => one !== "none")).toEqual(
        once.flatMap(({ start }) => (start ? [`${start.universe}/${start.slot}`] : [])),
      );
    }),
  );
});

test("a fixture added at the end, without an address of its own, changes nothing for the others", () => {
  fc.assert(
    fc.property(anyRack, anyFixture, anyWay, (rack, { slots, ganged, branch }, existing) => {
      const more = { ...rack, fixtures: [...rack.fixtures, fixture("last", slots, { ganged, branch })] };
      expect(starts(more, existing).slice(0, -1)).toEqual(starts(rack, existing));
    }),
  );
});
