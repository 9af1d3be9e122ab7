import { describe, expect, test } from "vitest";
import {
  CLEANING_CAUTIONS,
  CLEANING_IDS,
  cleaning,
  cleaningsDue,
  cleaningsOf,
  DIRT,
  DIRT_IDS,
  effortOf,
  PAD_RULES,
} from "../../../src/domain/trade/cleanings.ts";
import {
  CLOSING,
  COVER_IDS,
  COVERS,
  HOLD_POINT_IDS,
  holdPointWords,
  OPENING,
} from "../../../src/domain/trade/hold-points.ts";
import {
  alwaysDue,
  blocksPower,
  holdsBefore,
  INSPECTION_IDS,
  type InspectionId,
  inspection,
  inspectionsOf,
  lookReason,
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

/** Common practice, no source; the maker's manual and local rules come first. */
describe("hold points", () => {
  test("whatever needs a cover off is isolated, discharged and cool first", () => {
    for (const id of COVER_IDS.filter((cover) => COVERS[cover].minutes > 0))
      expect(COVERS[id].holds).toEqual(["isolated", "stored-charge", "cool", "cover-removed"]);
  });

  test("before power returns: nothing loose inside, covers on; the area is asked about before anything moves", () => {
    expect(CLOSING).toEqual(["nothing-loose", "covers-on"]);
  });

  test("each says its words, and stored charge defers to the maker's manual", () => {
    for (const id of HOLD_POINT_IDS) expect(holdPointWords(id)).not.toBe("");
    expect(holdPointWords(OPENING[1])).toContain("maker's manual");
  });
});

/** Common practice, no source: the wear points every check-in looks at. */
describe("always due", () => {
  test.each<[string, readonly InspectionId[]]>([
    ["edges of both belts", ["pan-belt-edges", "tilt-belt-edges"]],
    ["rub marks on the encoder wheels", ["pan-encoder-marks", "tilt-encoder-marks"]],
    ["tension wheels run true", ["pan-tension-wheel", "tilt-tension-wheel"]],
    ["the wires through the yoke, at both ends", ["yoke-wires"]],
    ["plugs and ribbons in base, yoke and head", ["base-plugs", "yoke-boards", "head-plugs"]],
    ["zoom, focus by hand", ["zoom-by-hand", "focus-by-hand"]],
    ["prism and frost arms move without drag", ["prism-by-hand", "frost-by-hand"]],
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
    ["springs that hold the gobos", ["gobo-springs"]],
    ["colour flags move freely", ["flags-by-hand"]],
    ["metal dust at the sensors of the flags", ["filings"]],
    ["capacitors wherever there are some: base, yoke, head", ["capacitors", "yoke-capacitors", "head-capacitors"]],
    ["power links and their screws", ["power-links"]],
    ["a screw that came loose", ["loose-screws", "gentle-rock"]],
    ["boards and parts in the base sit tight", ["base-parts"]],
    ["boards in the arms of the yoke", ["yoke-boards"]],
    ["fans under every cover", ["base-fans", "yoke-fans", "fans-by-finger"]],
    ["light pipe or condenser", ["light-pipe"]],
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
describe("why a look is worth it, said with the question", () => {
  test.each<[InspectionId, string, string]>([
    ["filings", "wrong colours", "colours are wrong, and no error says so"],
    ["pan-encoder-marks", "yoke is bent", "what rubs a disc in a narrow gap is a part out of line"],
    ["tilt-encoder-marks", "yoke is bent", "the same on tilt"],
    ["gobos-by-hand", "one drive turns them all", "they are compared with each other"],
  ])("%s: %s, because %s", (id, words) => {
    expect(lookReason(id)).toContain(words);
  });

  test("rotating gobos are compared with each other", () => {
    expect(inspection("gobos-by-hand").good).toContain("alike");
  });

  test("metal dust leaves the fixture without an error", () => {
    expect(lookReason("filings")).toContain("no error");
  });
});

/** Common practice, no source. */
describe("cleaning", () => {
  const pads = (id: (typeof CLEANING_IDS)[number]) => cleaning(id).pads;

  test("flags one pad, all wheels together one, zoom and focus lenses two, the front lens one of its own", () => {
    expect([pads("flags"), pads("wheels"), pads("inner-lenses"), pads("front-lens")]).toEqual([1, 1, 2, 1]);
    expect(cleaning("wheels").on).toEqual(
      expect.arrayContaining(["colour-wheel", "fixed-gobo-wheel", "rotating-gobo-wheel"]),
    );
  });

  test.each(DIRT_IDS)("half a pad is the smallest piece: %s dirt", (dirt) => {
    for (const id of CLEANING_IDS) expect(Number.isInteger(effortOf(id, dirt).pads * 2)).toBe(true);
  });

  test.each(CLEANING_IDS.filter((one) => cleaning(one).wetWith !== "nothing"))(
    "%s: a damp pad, always the same way, then a dry one",
    (id) => {
      expect(cleaning(id).how).toContain(
        "fluid on the pad, not on the glass; wipe from edge to edge, always the same way; then the same with a dry pad",
      );
    },
  );

  test("dust first, the front lens last", () => {
    expect([CLEANING_IDS[0], CLEANING_IDS.at(-1)]).toEqual(["dust", "front-lens"]);
  });

  test("air from a can is for the wheels alone and for want of time, with the fans blocked", () => {
    expect(cleaning("wheels").how).toContain("only when there is no time to wipe: air from a can at the wheels");
    expect(cleaning("wheels").how).toContain("every fan blocked");
    expect(CLEANING_IDS.filter((id) => cleaning(id).how.includes("air from a can"))).toEqual(["wheels"]);
    expect(CLEANING_CAUTIONS.join()).toContain("works as a generator");
  });

  test.each([
    ["sealed pack", "it was clean when it was packed, and nothing else says that it still is"],
    ["no paper towel, no shirt", "fibres stay, and some scratch"],
    ["used at one place is not used at another", "it carries the dirt along"],
    ["on the glass it runs under the holder", "why the fluid goes on the pad"],
  ])("pads: %s, because %s", (words) => {
    expect(PAD_RULES.join("; ")).toContain(words);
  });

  test("residue of pyrotechnics takes the most pads, and is not rubbed", () => {
    expect(Math.max(...DIRT_IDS.map((id) => DIRT[id].padsTimes))).toBe(DIRT.pyrotechnic.padsTimes);
    expect(DIRT.pyrotechnic.said).toContain("do not rub");
  });

  test("with dust only, what collects it is cleaned, and other glass where a film was seen", () => {
    const spot = new Set(MECHANISM_IDS);
    expect(cleaningsDue(spot, "light", () => false)).toEqual(["dust", "light-pipe", "front-lens"]);
    expect(cleaningsDue(spot, "light", (id) => id === "flags")).toContain("flags");
    expect(cleaningsDue(spot, "ordinary", () => false)).toEqual(cleaningsOf(spot));
  });

  test("only what is fitted is cleaned", () => {
    expect(cleaningsOf(new Set(["optics", "cooling"]))).toEqual(["dust", "light-pipe", "front-lens"]);
  });
});
