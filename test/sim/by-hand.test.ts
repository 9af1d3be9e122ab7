import { describe, expect, test } from "vitest";
import type { InspectionId } from "../../src/domain/trade/inspections.ts";
import type { FixtureBuild } from "../../src/sim/build.ts";
import { foundByHand } from "../../src/sim/physical/by-hand.ts";
import { PHYSICAL_FAULTS, setFaults } from "../../src/sim/physical/faults.ts";
import { hastyFraming, hastyRing, hastySpot, hastyWash } from "./kit/fixtures.ts";

const BUILDS: readonly FixtureBuild[] = [hastySpot(), hastyWash(), hastyFraming(), hastyRing()];
const found = (build: FixtureBuild, ...ids: readonly string[]) => foundByHand(ids, setFaults(build, ids, 2).troubles);

test.each(PHYSICAL_FAULTS.map(({ id }) => id))("%s is found by some look at the part", (id) => {
  const able = BUILDS.filter((build) => setFaults(build, [id], 2).set.length > 0);
  expect(able).not.toEqual([]);
  for (const build of able) expect([...found(build, id)], id).not.toEqual([]);
});

describe("what is turned by hand is felt, cold and without mains", () => {
  test.each<[string, InspectionId, boolean, string]>([
    ["pan-track-dented", "pan-by-hand", true, "the dent is felt"],
    ["tilt-stop-pushed-in", "tilt-by-hand", true, "it stops before its end"],
    ["tilt-lock-left-on", "tilt-by-hand", true, "it does not turn at all"],
    ["zoom-rods-dry", "zoom-by-hand", true, "dry rods hold all the way"],
    ["cyan-flag-binds-hot", "flags-by-hand", false, "cold it runs free"],
    ["zoom-bushings-tight-hot", "zoom-by-hand", false, "cold it runs free"],
    ["pan-output-burnt", "pan-by-hand", false, "without current it always turns freely"],
    ["menu-pan-reversed", "pan-by-hand", false, "nothing is broken"],
  ])("%s, %s: %s, because %s", (id, look, bad) => {
    expect(found(hastySpot(), id).has(look)).toBe(bad);
  });
});

test("of two things set both are found, and nothing of a clean fixture", () => {
  const both = found(hastySpot(), "zoom-rods-dry", "gobo-spring-sprung");
  expect([...both].sort()).toEqual(["gobo-springs", "zoom-by-hand"]);
  expect([...found(hastySpot())]).toEqual([]);
});
