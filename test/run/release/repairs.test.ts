import { expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { FAULT_IDS, type FaultId } from "../../../src/diagnosis/model/knowledge/faults.ts";
import { mechanismsOf } from "../../../src/diagnosis/model/places.ts";
import { compile } from "../../../src/plan/compile.ts";
import { disturbedBy, isDisturbed, stepShows } from "../../../src/run/release/repairs.ts";
import { shippedBench, shippedProfile, shippedSequence } from "../../kit/shipped.ts";

const SPOT = shippedProfile("spot-16bit");
const FITTED = fittedOf(SPOT);
const FULL = compile(SPOT, shippedSequence("full"), shippedBench()).steps.filter(({ fitted }) => fitted);
const again = (mended: FaultId | "something-else") =>
  FULL.filter((step) => isDisturbed(step, disturbedBy(mended), FITTED)).map(({ id }) => id);

/** Common practice, no source. */
test.each<[FaultId, readonly string[], readonly string[], string]>([
  [
    "iris-leaf-bent",
    ["sweep-iris", "iris-fast", "iris-warm"],
    ["pan-slow", "sweep-colorsubc"],
    "the iris alone was out",
  ],
  [
    "pan-belt-slack",
    ["pan-slow", "pan-snaps", "both-full", "tilt-slow"],
    ["sweep-iris"],
    "the loom runs beside the belt",
  ],
  ["loom-tired", ["pan-slow", "tilt-slow", "shake-pan-tilt"], ["sweep-iris"], "it shows at the ends of both axes"],
  ["fan-tired", ["soak-pan-tilt"], ["pan-snaps"], "only heat shows a fan"],
])("after the repair of %s: %s, and not %s, because %s", (mended, wanted, unwanted) => {
  expect(again(mended)).toEqual(expect.arrayContaining([...wanted]));
  for (const id of unwanted) expect(again(mended)).not.toContain(id);
});

test("a supply, or something that nobody named, disturbs everything", () => {
  expect(again("supply-weak")).toEqual(FULL.map(({ id }) => id));
  expect(again("something-else")).toEqual(FULL.map(({ id }) => id));
});

test("behind a head cover plugs are touched: it is powered up and identified again", () => {
  expect(again("iris-leaf-bent")).toEqual(expect.arrayContaining(["power-up-fixture", "identify-fixture"]));
});

test("the full check shows whatever any repair of this fixture can disturb", () => {
  for (const id of FAULT_IDS) {
    const disturbed = disturbedBy(id);
    if (disturbed === "everything") continue;
    for (const mechanism of disturbed.filter((one) => mechanismsOf(FITTED).has(one)))
      expect(
        FULL.some((step) => stepShows(step, mechanism, FITTED)),
        `${id}: ${mechanism}`,
      ).toBe(true);
  }
});
