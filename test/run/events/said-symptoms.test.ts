import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parseProfile } from "../../../src/data/profile/parse.ts";
import type { FixtureSaid } from "../../../src/run/events/fixture-said.ts";
import { SENSOR_LINKS, SETTING_LINKS, STATUS_LINKS, saidObservations } from "../../../src/run/events/said-symptoms.ts";
import { STATUS_KINDS } from "../../../src/wire/rdm/status.ts";

const parsed = parseProfile("spot-16bit", readFileSync("profiles/spot-16bit.yaml", "utf8"));
if (!parsed.ok) throw new Error("the profile cannot be read");
const profile = parsed.value;

/** Pan on slots 1 and 2, the rotating gobo on slot 12, counted from 0 as the standard does. */
const SLOTS = [
  { offset: 0, type: 0, label: 0x0101 },
  { offset: 1, type: 1, label: 0 },
  { offset: 11, type: 0, label: 0x0302 },
];
const NOTHING: FixtureSaid = {
  kind: "fixture-said",
  ...{ uid: "7FF0:00000002", maker: "", model: "", label: "", software: "", serial: "" },
  ...{ counters: {}, settings: {}, sensors: [], status: [], slots: SLOTS, self_tests: [], troubles: [] },
};
const error = (id: number, data1: number, type = 4) => ({ subDevice: 0, type, id, data1, data2: 0 });
const told = (said: Partial<FixtureSaid>) =>
  saidObservations({ ...NOTHING, ...said }, profile).map(
    ({ symptoms: [one] }) => `${one?.symptom} ${one?.function ?? "-"}`,
  );

describe("what a fixture reports of itself", () => {
  test.each([
    { status: error(0x05, 11), is: ["keeps-homing Gobo1"], because: "an index error names the slot of the gobo wheel" },
    { status: error(0x01, 0), is: ["keeps-homing Pan"], because: "pan did not calibrate" },
    { status: error(0x01, 1), is: ["keeps-homing Pan"], because: "the fine slot belongs to its coarse one" },
    { status: error(0x01, 0x0102), is: ["keeps-homing Tilt"], because: "a label instead of a slot is understood" },
    { status: error(0x04, 0), is: ["wrong-place Pan"], because: "what it reads back is elsewhere" },
    {
      status: error(0x05, 400),
      is: ["error-shown -"],
      because: "a slot that nobody knows says only that something is wrong",
    },
    { status: error(0x21, 0), is: ["cuts-out -"], because: "it is too hot" },
    { status: error(0x02, 0x0101), is: ["keeps-homing Pan"], because: "the sensor of pan is named by its slot label" },
    { status: error(0x03, 0x0302), is: ["keeps-homing Gobo1"], because: "the mark of the gobo wheel never lets go" },
    {
      status: error(0x02, 7),
      is: ["error-shown -"],
      because: "a sensor that nobody knows says only that something is wrong",
    },
    { status: error(0x12, 0), is: ["no-strike -"], because: "it saw no light" },
    { status: error(0x05, 11, 2), is: [], because: "advice is no fault" },
    { status: error(0x05, 11, 0x14), is: [], because: "it says that it is over" },
    { status: error(0x50, 0), is: [], because: "ready is no fault" },
    { status: error(0x8001, 0), is: [], because: "only the maker knows what that is" },
  ])("$because", ({ status, is }) => {
    expect(told({ status: [status] })).toEqual(is);
  });

  test("a sensor off its normal range, and a menu that makes it do what nobody expects", () => {
    const sensor = { number: 0, unit: "", scale: 1, lowest: 0, highest: 0 };
    const fan = { ...sensor, name: "Fan", kind: "speed" as const, value: 200, normal: { from: 1800, to: 4200 } };
    const head = { ...sensor, name: "Head", kind: "temperature" as const, value: 92, normal: { to: 85 } };
    expect(told({ sensors: [fan, head, { ...head, value: 60 }], settings: { PAN_INVERT: 1, TILT_INVERT: 0 } })).toEqual(
      ["fan-still -", "cuts-out -", "inverted Pan"],
    );
  });

  test.each([
    { name: "Tilt home", is: "keeps-homing Tilt", because: "its name begins with the part" },
    { name: "Mark, rotating gobo", is: "keeps-homing Gobo1", because: "the longest name of a part counts" },
    { name: "Board 3", is: "error-shown -", because: "its name names no part" },
  ])("a sensor by its number is found by its name: $name, $because", ({ name, is }) => {
    const sensor = {
      number: 0,
      name,
      kind: "other" as const,
      unit: "",
      scale: 1,
      value: 0,
      lowest: 0,
      highest: 0,
      normal: {},
    };
    expect(told({ sensors: [sensor], status: [error(0x02, 0)] })).toEqual([is]);
  });

  test("nothing reported is no evidence: a fixture believes what it does not measure", () => {
    expect(told({})).toEqual([]);
  });
});

test("every link says why it counts and on whose word, and every status in the table is one of the standard's", () => {
  const links = [...Object.values(STATUS_LINKS), ...SENSOR_LINKS, ...SETTING_LINKS];
  for (const { because, origin } of links)
    expect([because !== "", origin]).toEqual([true, "common practice, no source"]);
  const names = [...STATUS_KINDS.values()].map(({ name }) => name);
  expect(Object.keys(STATUS_LINKS).filter((name) => !names.includes(name))).toEqual([]);
});
