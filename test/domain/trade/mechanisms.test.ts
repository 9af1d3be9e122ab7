import { expect, test } from "vitest";
import { LIGHT_SOURCE_IDS, type LightSourceId, sourceCaution } from "../../../src/domain/trade/mechanisms.ts";

/** Common practice, no source; the maker's manual and local rules go before these words. */
test.each<[LightSourceId, readonly string[], string]>([
  ["discharge", ["burst", "face shield", "gloves"], "it stands under pressure, and quartz flies far"],
  ["laser", ["trained", "interlocks", "no eye"], "a beam that comes out by mistake blinds before anybody blinks"],
  ["ultraviolet", ["eyes and skin", "unseen", "eyewear"], "nobody sees it, so nobody looks away"],
])("%s: %s, because %s", (id, words) => {
  for (const one of words) expect(sourceCaution(id)).toContain(one);
});

test("LEDs have the usual cautions alone", () => {
  expect(LIGHT_SOURCE_IDS.filter((id) => sourceCaution(id) === "")).toEqual(["led"]);
});
