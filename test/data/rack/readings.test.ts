import { expect, test } from "vitest";
import { readingsFromTable } from "../../../src/data/rack/readings.ts";
import { shippedRack } from "../../kit/shipped.ts";

const RACK = shippedRack("demo");
const SERIAL = RACK.fixtures[0]?.serial ?? "";
const taken = (columns: string, cells: string): boolean =>
  readingsFromTable("readings.csv", `serial,${columns}\n${SERIAL},${cells}\n`, RACK).ok;

test.each([
  { columns: "lux,at_m", cells: "1200,5", ok: true, because: "light has its distance" },
  { columns: "lux,at_m", cells: "1200,", ok: false, because: "light without the distance it was read at says nothing" },
  { columns: "lux,at_m", cells: ",5", ok: false, because: "a distance alone is no reading" },
  { columns: "lux,at_m", cells: ",", ok: true, because: "what was not read stays empty" },
  { columns: "x,y", cells: "0.31,0.33", ok: true, because: "a colour has both (CIE 1931)" },
  { columns: "x,y", cells: "0.31,", ok: false, because: "half a colour is none" },
  { columns: "x,y", cells: "1,1.1", ok: false, because: "a chromaticity coordinate is at most 1" },
  { columns: "Pan_s", cells: "0", ok: false, because: "no travel takes no time" },
])("$columns = $cells: taken $ok, $because", ({ columns, cells, ok }) => {
  expect(taken(columns, cells)).toBe(ok);
});
