import { expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { FAULT_IDS, type FaultId } from "../../../src/diagnosis/model/knowledge/faults.ts";
import { mechanismsOf } from "../../../src/diagnosis/model/places.ts";
import { compile } from "../../../src/plan/compile.ts";
import { disturbedBy, explainedFinds, isDisturbed, stepShows } from "../../../src/run/release/repairs.ts";
import { shippedBench, shippedProfile, shippedSequence } from "../../kit/shipped.ts";
import { judged, look, opened, told } from "./path.ts";

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

const LEAF = "iris-leaf-bent";
const repairedBody = {
  kind: "repaired",
  what: "fault",
  fault: LEAF,
  part: "",
  minutes: 9,
  initials: "KM",
  note: "",
} as const;
const named = { kind: "found", what: "fault", fault: LEAF, note: "" } as const;

test.each([
  { path: [repairedBody, named], explained: 1, because: "it names what had just been repaired" },
  { path: [named, repairedBody], explained: 0, because: "it came first, and the repair followed from it" },
  {
    path: [named, repairedBody, named],
    explained: 0,
    because: "it had been named before the repair, and is there again",
  },
  { path: [repairedBody, named, named], explained: 1, because: "one repair mends one fault once" },
  { path: [repairedBody, repairedBody, named, named], explained: 2, because: "two repairs were done" },
  { path: [repairedBody, judged("iris", "fail"), named], explained: 0, because: "it was seen again in between" },
  { path: [repairedBody, judged("iris", "pass"), named], explained: 1, because: "it was good in between" },
  {
    path: [repairedBody, look("iris-leaves", "bad"), named],
    explained: 0,
    because: "an inspection found it in between",
  },
])("of these finds $explained is explained by a repair: $because", ({ path, explained }) => {
  expect(explainedFinds([opened(), ...path].map((body) => told(body))).size).toBe(explained);
});
