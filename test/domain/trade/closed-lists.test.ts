import { expect, test } from "vitest";
import { FUNCTION_IDS, FUNCTIONS, isAxisFunction } from "../../../src/domain/trade/functions.ts";
import { type InspectionId, wantsPower } from "../../../src/domain/trade/inspections.ts";
import { LIGHT_SOURCE_IDS, type LightSourceId, sourceCaution } from "../../../src/domain/trade/mechanisms.ts";
import { FIXTURE_SYMPTOMS, isAxisMechanism, type SymptomId } from "../../../src/domain/trade/symptoms.ts";

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

test.each([
  { symptom: "light-out", whole: true, because: "no single part is meant" },
  { symptom: "smells-burnt", whole: true, because: "a nose finds no part" },
  { symptom: "knocks", whole: false, because: "something that moves knocks" },
  { symptom: "wrong-item", whole: false, because: "a wheel stands wrong" },
] as const satisfies readonly { symptom: SymptomId; whole: boolean; because: string }[])(
  "$symptom is said of the fixture as a whole: $whole, because $because",
  ({ symptom, whole }) => {
    expect((FIXTURE_SYMPTOMS as readonly SymptomId[]).includes(symptom)).toBe(whole);
  },
);

/** Common practice, no source. */
test.each([
  { inspection: "menu-settings", power: true, because: "a dark panel shows nothing" },
  { inspection: "supply-swap", power: true, because: "a part changed for a try is tried with the mains on" },
  { inspection: "pan-belt-tension", power: false, because: "a belt is felt with the mains off" },
  { inspection: "capacitors", power: false, because: "under covers nothing is looked at with the mains on" },
] as const satisfies readonly { inspection: InspectionId; power: boolean; because: string }[])(
  "$inspection is made with the mains on: $power, because $because",
  ({ inspection, power }) => {
    expect(wantsPower(inspection)).toBe(power);
  },
);

test("the axes are pan and tilt, and their mechanisms the drives of both", () => {
  expect(FUNCTION_IDS.filter(isAxisFunction)).toEqual(["Pan", "Tilt"]);
  for (const id of FUNCTION_IDS) expect(isAxisMechanism(FUNCTIONS[id].mechanism), id).toBe(isAxisFunction(id));
});
