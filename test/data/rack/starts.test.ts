import fc from "fast-check";
import { expect, test } from "vitest";
import type { Power } from "../../../src/data/profile/profile.ts";
import { planStarts, type StartPlan } from "../../../src/data/rack/power.ts";
import type { Circuit, Rack, RackFixture } from "../../../src/data/rack/rack.ts";
import { shippedProfile, shippedRack } from "../../kit/shipped.ts";

const SPOT = shippedProfile("spot-16bit");
const DEMO = shippedRack("demo");
const power = (starting: number, running: number, start: number): Power => ({
  volts: 230,
  running,
  starting,
  start,
  leakage: 1,
});
const fixture = (serial: string, circuit: string | undefined, draws: Power | undefined): RackFixture => ({
  serial,
  profile: { ...SPOT, power: draws },
  place: { shelf: "top", position: serial },
  start: undefined,
  ganged: false,
  uid: undefined,
  branch: undefined,
  circuit,
});
const circuit = (name: string, rating: number, volts = 230): Circuit => ({
  name,
  rating,
  volts,
  continuous: 0.8,
  rcd: undefined,
});
const rackOf = (circuits: readonly Circuit[], fixtures: readonly RackFixture[]): Rack => ({
  ...DEMO,
  circuits,
  fixtures,
});
const told = ({ starts }: StartPlan) =>
  starts.map(({ at, fixtures }) => `${at} s: ${fixtures.map(({ serial }) => serial).join(" ")}`);

test("as many start together as the circuit can bear, the next ones when these have settled", () => {
  const six = ["a", "b", "c", "d", "e", "f"].map((serial) => fixture(serial, "A", power(6, 2, 10)));
  const plan = planStarts(rackOf([circuit("A", 20)], six));
  expect(told(plan)).toEqual(["0 s: a b c", "10 s: d e", "20 s: f"]);
  expect(plan.total).toBe(30);
});

test("circuits do not wait for each other", () => {
  const rack = rackOf(
    [circuit("A", 10), circuit("B", 10)],
    [fixture("a", "A", power(6, 2, 10)), fixture("b", "B", power(6, 2, 7)), fixture("c", "B", power(6, 2, 7))],
  );
  expect(told(planStarts(rack))).toEqual(["0 s: a b", "7 s: c"]);
});

test("the greatest surge starts first: let in last, it would find no room", () => {
  const rack = rackOf(
    [circuit("A", 10)],
    [fixture("calm", "A", power(3, 3, 5)), fixture("surge", "A", power(9, 2, 5))],
  );
  expect(told(planStarts(rack))).toEqual(["0 s: surge", "5 s: calm"]);
});

test("at half the mains voltage a fixture draws twice the current", () => {
  const two = ["a", "b"].map((serial) => fixture(serial, "A", power(6, 2, 10)));
  expect(told(planStarts(rackOf([circuit("A", 12, 230)], two)))).toEqual(["0 s: a b"]);
  expect(told(planStarts(rackOf([circuit("A", 16, 115)], two)))).toEqual(["0 s: a", "10 s: b"]);
});

test("a fixture that alone is too much for its circuit is said to be stuck, and the others start", () => {
  const rack = rackOf(
    [circuit("A", 10)],
    [fixture("greedy", "A", power(11, 2, 5)), fixture("small", "A", power(3, 2, 5))],
  );
  const plan = planStarts(rack);
  expect(plan.stuck.map(({ serial }) => serial)).toEqual(["greedy"]);
  expect(told(plan)).toEqual(["0 s: small"]);
});

/** NFPA 70 (NEC) 210.20(A), secondary: 125 % of a continuous load, so that a 20 A circuit carries 16 A for hours. */
test.each([
  { fixtures: 4, stuck: 0, because: "four of 4 A are the 16 A that a 20 A circuit carries for hours" },
  { fixtures: 5, stuck: 1, because: "the fifth is not, though 20 A is the rating" },
])("of $fixtures fixtures $stuck cannot start: $because", ({ fixtures, stuck }) => {
  const all = Array.from({ length: fixtures }, (_, index) => fixture(`f${index}`, "A", power(4, 4, 5)));
  expect(planStarts(rackOf([circuit("A", 20)], all)).stuck).toHaveLength(stuck);
});

test("fixtures of which nobody said what feeds them or what they draw are not counted, and are named", () => {
  const rack = rackOf(
    [circuit("A", 10)],
    [fixture("unfed", undefined, power(3, 2, 5)), fixture("unknown", "A", undefined)],
  );
  expect(planStarts(rack).uncounted.map(({ serial }) => serial)).toEqual(["unfed", "unknown"]);
});

const anyPower = fc
  .record({ running: fc.integer({ min: 1, max: 60 }), extra: fc.nat(60), start: fc.integer({ min: 1, max: 90 }) })
  .map(({ running, extra, start }) => power((running + extra) / 10, running / 10, start));
const anyRack = fc
  .record({
    circuits: fc.array(fc.record({ rating: fc.integer({ min: 4, max: 40 }), volts: fc.constantFrom(115, 230) }), {
      minLength: 1,
      maxLength: 3,
    }),
    draws: fc.array(fc.record({ draws: anyPower, on: fc.nat(2) }), { maxLength: 24 }),
  })
  .map(({ circuits, draws }) =>
    rackOf(
      circuits.map(({ rating, volts }, index) => circuit(`C${index}`, rating, volts)),
      draws.map((one, index) => fixture(`f${index}`, `C${one.on % circuits.length}`, one.draws)),
    ),
  );

/** Reckoned from the plan alone. */
const carried = (plan: StartPlan, { name, volts }: Circuit, time: number): number =>
  plan.starts
    .flatMap(({ at, fixtures }) => fixtures.map(({ circuit, profile }) => ({ at, circuit, power: profile.power! })))
    .filter((one) => one.circuit === name && one.at <= time)
    .reduce(
      (sum, { at, power }) => sum + ((time < at + power.start ? power.starting : power.running) * 230) / volts,
      0,
    );
/** Between these nothing changes. */
const changes = ({ starts }: StartPlan): readonly number[] =>
  starts.flatMap(({ at, fixtures }) => [at, ...fixtures.map(({ profile }) => at + profile.power!.start)]);

test("no circuit ever carries more than its rating, nor more than its share for hours once all have started", () => {
  fc.assert(
    fc.property(anyRack, (rack) => {
      const plan = planStarts(rack);
      for (const one of rack.circuits) {
        const most = Math.max(0, ...changes(plan).map((time) => carried(plan, one, time)));
        expect(most).toBeLessThanOrEqual(one.rating + 1e-6);
        expect(carried(plan, one, plan.total)).toBeLessThanOrEqual(one.rating * one.continuous + 1e-6);
      }
    }),
  );
});

test("every fixture is in the plan once, or stuck, or not counted", () => {
  fc.assert(
    fc.property(anyRack, (rack) => {
      const plan = planStarts(rack);
      const all = [...plan.starts.flatMap(({ fixtures }) => fixtures), ...plan.stuck, ...plan.uncounted];
      expect(all.map(({ serial }) => serial).sort()).toEqual(rack.fixtures.map(({ serial }) => serial).sort());
    }),
  );
});

test("a fixture is stuck only when no order would have let all of its circuit start, tried by brute force", () => {
  const small = fc.record({
    rating: fc.integer({ min: 4, max: 20 }),
    draws: fc.array(anyPower, { minLength: 1, maxLength: 4 }),
  });
  fc.assert(
    fc.property(small, ({ rating, draws }) => {
      const limit = rating * 0.8 + 1e-9;
      const works = orders(draws).some((order) =>
        order.every((draw, index) => {
          const before = order.slice(0, index).reduce((sum, { running }) => sum + running, 0);
          return before + draw.starting <= rating + 1e-9 && before + draw.running <= limit;
        }),
      );
      const fixtures = draws.map((draw, index) => fixture(`f${index}`, "A", draw));
      expect(planStarts(rackOf([circuit("A", rating)], fixtures)).stuck.length === 0).toBe(works);
    }),
  );
});

const orders = <T>(items: readonly T[]): readonly (readonly T[])[] =>
  items.length === 0
    ? [[]]
    : items.flatMap((item, index) => orders(items.toSpliced(index, 1)).map((rest) => [item, ...rest]));
