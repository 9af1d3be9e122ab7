import { describe, expect, test } from "vitest";
import {
  CLEANING_CAUTIONS,
  CLEANING_IDS,
  cleaning,
  cleaningsOf,
  GRIME,
  GRIME_IDS,
} from "../../../src/domain/trade/cleanings.ts";
import { COVER_IDS, COVERS } from "../../../src/domain/trade/covers.ts";
import { alwaysDue, blocksPower } from "../../../src/domain/trade/due.ts";
import { CLOSING, HOLD_POINT_IDS, holdPointWords, OPENING } from "../../../src/domain/trade/hold-points.ts";
import {
  holdsBefore,
  INSPECTION_IDS,
  type InspectionId,
  inspection,
  inspectionsOf,
} from "../../../src/domain/trade/inspections.ts";
import { MECHANISM_IDS } from "../../../src/domain/trade/mechanisms.ts";

const EVERYTHING = new Set(MECHANISM_IDS);

describe("inspections", () => {
  test.each(INSPECTION_IDS)("%s says what to look at, what good and bad look like, and how long", (id) => {
    const { look, good, bad, minutes } = inspection(id);
    for (const words of [look, good, bad]) expect(words.trim()).not.toBe("");
    expect(good).not.toBe(bad);
    expect(minutes).toBeGreaterThan(0);
  });

  test.each(INSPECTION_IDS)("%s has its hold point", (id) => {
    expect(holdsBefore(id).length).toBeGreaterThan(0);
  });

  test("only what is fitted is looked at", () => {
    expect(inspectionsOf(new Set(["iris"]))).toEqual(["iris-by-hand", "iris-leaves", "iris-lever"]);
  });
});

describe("hold points", () => {
  test("whatever needs a cover off is isolated, discharged and cool first", () => {
    for (const id of COVER_IDS.filter((cover) => COVERS[cover].minutes > 0))
      expect(COVERS[id].holds).toEqual(["isolated", "stored-charge", "cool", "cover-removed"]);
  });

  test("before power returns: nothing loose inside, covers on, area clear", () => {
    expect(CLOSING).toEqual(["nothing-loose", "covers-on", "area-clear"]);
  });

  test("each says its words, and stored charge defers to the maker's manual", () => {
    for (const id of HOLD_POINT_IDS) expect(holdPointWords(id)).not.toBe("");
    expect(holdPointWords(OPENING[1])).toContain("maker's manual");
  });
});

/** Common practice, no source: the wear points every check-in looks at. */
describe("always due", () => {
  test.each<[string, readonly InspectionId[]]>([
    ["belt edges for fraying", ["pan-belt-edges", "tilt-belt-edges"]],
    ["encoder wheel outside for marks", ["pan-encoder-marks", "tilt-encoder-marks"]],
    ["tension wheel round and not wobbling", ["pan-tension-wheel", "tilt-tension-wheel"]],
    ["wires into the yoke, both ends", ["yoke-wires"]],
    ["connectors pressed home", ["base-plugs", "head-plugs"]],
    ["zoom, focus by hand", ["zoom-by-hand", "focus-by-hand"]],
    ["prisms and frosts slide freely", ["prism-by-hand", "frost-by-hand"]],
    [
      "wheels, iris, each rotating gobo by hand",
      [
        "colour-wheel-by-hand",
        "fixed-gobos-by-hand",
        "gobo-wheel-by-hand",
        "effect-wheel-by-hand",
        "iris-by-hand",
        "gobos-by-hand",
      ],
    ],
    ["gobo springs seated", ["gobo-springs"]],
    ["flags travel evenly", ["flags-by-hand"]],
    ["filings on magnets and sensors", ["filings"]],
    ["capacitors not bulged", ["capacitors"]],
    ["power links tight", ["power-links"]],
    ["no loose screws rattling in the base", ["loose-screws", "gentle-rock"]],
    ["fans turn freely by finger", ["fans-by-finger"]],
    ["light pipe clean", ["light-pipe"]],
    ["earth continuity", ["earth-continuity"]],
  ])("%s", (_, looks) => {
    expect(alwaysDue(EVERYTHING)).toEqual(expect.arrayContaining([...looks]));
  });

  test("a fail of the outside check blocks power: locks, cord, water, yoke cable, brackets", () => {
    expect(INSPECTION_IDS.filter(blocksPower)).toEqual([
      "transport-locks",
      "plug-and-cord",
      "water",
      "yoke-entry",
      "brackets",
    ]);
    for (const id of INSPECTION_IDS.filter(blocksPower)) expect(inspection(id).cover).toBe("outside");
  });

  test("in the order of work: outside, base, yoke, head", () => {
    const covers = alwaysDue(EVERYTHING).map((id) => COVER_IDS.indexOf(inspection(id).cover));
    expect(covers).toEqual([...covers].sort((a, b) => a - b));
  });
});

/** Common practice, no source. */
describe("cleaning", () => {
  const pads = (id: (typeof CLEANING_IDS)[number]) => cleaning(id).pads;

  test("one pad for the flags, one for colour wheel and gobos, two for zoom and focus lenses, the front lens its own", () => {
    expect([pads("flags"), pads("wheels"), pads("inner-lenses"), pads("front-lens")]).toEqual([1, 1, 2, 1]);
    expect(cleaning("wheels").on).toEqual(
      expect.arrayContaining(["colour-wheel", "fixed-gobo-wheel", "rotating-gobo-wheel"]),
    );
  });

  test("a pad may be cut in half, no smaller", () => {
    for (const id of CLEANING_IDS) expect(Number.isInteger(pads(id) * 2)).toBe(true);
  });

  test("the fluid goes on the pad, wiped one way in straight lines, dried the same way", () => {
    for (const id of CLEANING_IDS.filter((one) => cleaning(one).wetWith !== "nothing"))
      expect(cleaning(id).how).toBe(
        "wet the pad, never the glass; one direction in straight lines, never in circles; then a dry pad the same way",
      );
  });

  test("dust first, the front lens last", () => {
    expect([CLEANING_IDS[0], CLEANING_IDS.at(-1)]).toEqual(["dust", "front-lens"]);
  });

  test("air only when time forces it, and fans never spin", () => {
    expect(cleaning("dust").how).toContain("only when time forces it");
    expect(CLEANING_CAUTIONS.join()).toContain("drives current back into the electronics");
  });

  test("pyrotechnic residue takes the most pads, and no rubbing", () => {
    expect(Math.max(...GRIME_IDS.map((id) => GRIME[id].padsTimes))).toBe(GRIME.pyrotechnic.padsTimes);
    expect(GRIME.pyrotechnic.words).toContain("no rubbing");
  });

  test("only what is fitted is cleaned", () => {
    expect(cleaningsOf(new Set(["optics", "cooling"]))).toEqual(["dust", "light-pipe", "front-lens"]);
  });
});
