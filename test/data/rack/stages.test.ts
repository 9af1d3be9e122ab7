import fc from "fast-check";
import { expect, test } from "vitest";
import { type MainsStage, stagesOf } from "../../../src/data/rack/groups.ts";
import type { Start } from "../../../src/data/rack/power.ts";
import type { RackFixture } from "../../../src/data/rack/rack.ts";
import { shippedProfile } from "../../kit/shipped.ts";

const SPOT = shippedProfile("spot-16bit");
const fixture = (serial: string, circuit: string): RackFixture => ({
  serial,
  circuit,
  profile: SPOT,
  place: { shelf: "top", position: serial },
  start: undefined,
  ganged: false,
  uid: undefined,
  branch: undefined,
});
const onCircuit = (circuit: string, ...serials: readonly string[]) => serials.map((serial) => fixture(serial, circuit));
const told = (stages: readonly MainsStage[]) =>
  stages.map(({ after, fixtures }) => `after ${after} s: ${fixtures.map(({ serial }) => serial).join(" ")}`);
const upIn = () => 60;

test("those that had no key any more are switched on with those whose circuit was not ready: one stage, not two", () => {
  const starts: readonly Start[] = [
    { at: 0, fixtures: [...onCircuit("A", "a1", "a2"), ...onCircuit("B", "b1", "b2")] },
    { at: 55, fixtures: onCircuit("A", "a3") },
  ];
  expect(told(stagesOf({ starts, uncounted: [] }, 3, upIn))).toEqual(["after 0 s: a1 a2 b1", "after 55 s: b2 a3"]);
});

test("a circuit that wants longer than its stage is watched is waited for", () => {
  const starts = [
    { at: 0, fixtures: onCircuit("A", "a1") },
    { at: 90, fixtures: onCircuit("A", "a2") },
  ];
  expect(told(stagesOf({ starts, uncounted: [] }, 12, upIn))).toEqual(["after 0 s: a1", "after 90 s: a2"]);
});

test("nobody overtakes one on its own circuit that found no key", () => {
  const starts = [
    { at: 0, fixtures: onCircuit("A", "a1", "a2") },
    { at: 10, fixtures: onCircuit("A", "a3") },
  ];
  expect(told(stagesOf({ starts, uncounted: [] }, 1, upIn))).toEqual([
    "after 0 s: a1",
    "after 0 s: a2",
    "after 10 s: a3",
  ]);
});

test("those that nobody said the circuit of come last", () => {
  const starts = [{ at: 0, fixtures: onCircuit("A", "a1") }];
  const uncounted = [fixture("u1", ""), fixture("u2", "")];
  expect(told(stagesOf({ starts, uncounted }, 12, upIn))).toEqual(["after 0 s: a1", "after 0 s: u1 u2"]);
});

const anyStarts = fc
  .array(fc.record({ circuit: fc.constantFrom("A", "B", "C"), at: fc.nat(120) }), { maxLength: 24 })
  .map((all) => {
    const moments = [...new Set(all.map(({ at }) => at))].toSorted((a, b) => a - b);
    return moments.map((at) => ({
      at,
      fixtures: all.flatMap((one, n) => (one.at === at ? [fixture(`f${n}`, one.circuit)] : [])),
    }));
  });

test("whoever is as quick as the plan, or slower, keeps within a circuit every distance of the start plan; everybody goes on once", () => {
  fc.assert(
    fc.property(anyStarts, fc.integer({ min: 1, max: 12 }), fc.nat(40), (starts, most, slower) => {
      const planned = new Map(starts.flatMap(({ at, fixtures }) => fixtures.map((one) => [one, at] as const)));
      const on: { readonly fixture: RackFixture; readonly since: number }[] = [];
      let [before, free] = [0, 0];
      for (const { fixtures, after } of stagesOf({ starts, uncounted: [] }, most, upIn)) {
        expect(fixtures.length).toBeLessThanOrEqual(most);
        const now = Math.max(free, on.length > 0 ? before + after : 0);
        for (const one of fixtures)
          for (const { fixture: earlier, since } of on.filter(({ fixture }) => fixture.circuit === one.circuit)) {
            const distance = (planned.get(one) ?? 0) - (planned.get(earlier) ?? 0);
            expect(now - since).toBeGreaterThanOrEqual(distance);
          }
        on.push(...fixtures.map((one) => ({ fixture: one, since: now })));
        [before, free] = [now, now + 60 + slower];
      }
      const serials = (all: Iterable<RackFixture>) => [...all].map(({ serial }) => serial).toSorted();
      expect(serials(on.map(({ fixture }) => fixture))).toEqual(serials(planned.keys()));
    }),
  );
});
