import { readingsFromTable } from "../../src/data/rack/readings.ts";
import { type ReadingsChart, readingsCharts } from "../../src/reports/rack-readings.ts";
import type { FixtureLine, RackSheet } from "../../src/reports/rack-sheet.ts";
import { HOSTILE_TEXTS } from "../kit/hostile.ts";
import { must, shippedRack } from "../kit/shipped.ts";

const line = (serial: string, place: string, seen: Partial<FixtureLine> = {}): FixtureLine => ({
  serial,
  place,
  run: `20261125-1900-${serial}`,
  state: "nothing seen",
  symptoms: [],
  mayBe: undefined,
  notWatched: 0,
  set: [],
  hidden: [],
  ...seen,
});
const sheet = (fixtures: readonly FixtureLine[]): RackSheet => ({
  run: "20261125-1900-00c0de",
  title: "Back from the long hire",
  simulated: true,
  ended: "finished",
  fixtures,
  watched: "watched",
  unnamed: [],
  took: 1450,
  oneByOne: 5620,
});

/** Twenty-four fixtures, one of them odd. */
export const usualRack = (): RackSheet =>
  sheet(
    Array.from({ length: 24 }, (_, n) => {
      const place = `shelf ${1 + Math.floor(n / 6)}, ${1 + (n % 6)} from the left`;
      const odd: Partial<FixtureLine> = {
        state: "fault seen",
        symptoms: ["pan jerks or hesitates", "pan stops, then catches up"],
        mayBe: "most likely: pan encoder dirty or out of gap",
        set: ["pan-disc-dusty"],
        hidden: ["dust on the pan encoder disc"],
      };
      return line(`SP-${201 + n}`, place, n === 7 ? odd : {});
    }),
  );

export const hostileRack = (texts: readonly string[] = HOSTILE_TEXTS): RackSheet => ({
  ...sheet(texts.map((text) => line(text, text, { state: "fault seen", symptoms: ["pan jerks or hesitates"] }))),
  title: texts[0] ?? "",
});

/** One fixture gives too little light, and one turns slowly. */
export const usualReadings = (): readonly ReadingsChart[] => {
  const rows = [10200, 9900, 10500, 6100, 9700, 10050, 10350, 9800].map(
    (lux, n) => `SP-${201 + n};${lux};5;${n === 4 ? "2,95" : `2,${57 + n}`}`,
  );
  return readingsCharts(
    must(readingsFromTable("r.csv", ["serial;lux;at_m;Pan_s", ...rows].join("\n"), shippedRack("two-universes"))),
  );
};
