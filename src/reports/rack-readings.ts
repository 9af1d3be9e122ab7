import { oddOnes, oddRule, type Risk } from "../data/rack/odd.ts";
import { placeInWords, type RackFixture } from "../data/rack/rack.ts";
import { luxAt, type Readings, usualDistance } from "../data/rack/readings.ts";
import { FUNCTION_IDS, functionWords } from "../domain/trade/functions.ts";
import { canShow } from "./can-show.ts";

/** One kind of reading of all fixtures of one kind, ready to be drawn: along a scale, with the middle and the limits marked. */
export interface ReadingsChart {
  /** "light at 5 m". */
  readonly quantity: string;
  /** "lux", "s" or none. */
  readonly unit: string;
  /** The kind of fixture, as its profile is titled. */
  readonly kind: string;
  /** In the order of the rack. */
  readonly rows: readonly ChartRow[];
  /** Undefined where too few were read to say what is odd. */
  readonly limits: { readonly middle: number; readonly low: number; readonly high: number } | undefined;
  /** Which are odd and by how much. */
  readonly said: readonly string[];
  /** What readings of so many fixtures can and cannot show. */
  readonly shows: string;
}
export interface ChartRow {
  readonly serial: string;
  readonly place: string;
  readonly value: number;
  /** The value as it is told: "9800". */
  readonly words: string;
  readonly odd: boolean;
}

interface Quantity {
  readonly name: string;
  readonly unit: string;
  readonly decimals: number;
  /** The smallest difference that is worth a look: of the middle one, or as it is. Judgement. */
  readonly matters: { readonly share: number } | { readonly difference: number };
  readonly risk: Risk;
}

/** Everything that was read, kind by kind: light at one distance, colour, travel times. Only fixtures of one kind are compared. */
export const readingsCharts = (readings: readonly Readings[]): readonly ReadingsChart[] => {
  const kinds = [...new Set(readings.map(({ fixture }) => fixture.profile.name))];
  return kinds.flatMap((kind) => {
    const of = readings.filter(({ fixture }) => fixture.profile.name === kind);
    return [...lightCharts(of), ...colourCharts(of), ...travelCharts(of)];
  });
};

type Values = readonly (readonly [RackFixture, number])[];

const lightCharts = (readings: readonly Readings[]): readonly ReadingsChart[] => {
  const metres = usualDistance(readings.flatMap(({ light }) => light?.at ?? []));
  if (metres === undefined) return [];
  const values = valuesOf(readings, ({ light }) => light && luxAt(light, metres));
  const matters = { share: 0.05 };
  const chart = chartOf({ name: `light at ${metres} m`, unit: "lux", decimals: 0, matters, risk: "all" }, values);
  const elsewhere = readings.filter(({ light }) => light && light.at !== metres).map(({ fixture }) => fixture.serial);
  return [{ ...chart, said: [...chart.said, ...(elsewhere.length > 0 ? [reckoned(elsewhere, metres)] : [])] }];
};

const reckoned = (serials: readonly string[], metres: number): string =>
  `${serials.join(", ")}: read at another distance and reckoned to ${metres} m by its square, which a narrow beam follows only roughly.`;

/** x and y share the risk of a false name; the distance from the middle alone would be named far too often, since x and y go together. */
const colourCharts = (readings: readonly Readings[]): readonly ReadingsChart[] =>
  (["x", "y"] as const).flatMap((axis) => {
    const values = valuesOf(readings, ({ colour }) => colour?.[axis]);
    const matters = { difference: 0.004 };
    return values.length === 0
      ? []
      : [chartOf({ name: `colour ${axis}`, unit: "", decimals: 4, matters, risk: "half" }, values)];
  });

const travelCharts = (readings: readonly Readings[]): readonly ReadingsChart[] =>
  FUNCTION_IDS.flatMap((id) => {
    const values = valuesOf(readings, ({ travel }) => travel.get(id));
    const matters = { difference: 0.2 };
    return values.length === 0
      ? []
      : [
          chartOf(
            { name: `full travel of ${functionWords(id)}`, unit: "s", decimals: 2, matters, risk: "all" },
            values,
          ),
        ];
  });

const valuesOf = (readings: readonly Readings[], take: (one: Readings) => number | undefined): Values =>
  readings.flatMap((one) => {
    const value = take(one);
    return value === undefined ? [] : [[one.fixture, value] as const];
  });

const chartOf = (quantity: Quantity, values: Values): ReadingsChart => {
  const numbers = values.map(([, value]) => value);
  const rule = oddRule(numbers.length, quantity.risk);
  const found = rule && oddOnes(rule, numbers, mattering(quantity, numbers));
  const rows = values.map(([fixture, value], index) => ({
    serial: fixture.serial,
    place: placeInWords(fixture.place),
    value,
    words: value.toFixed(quantity.decimals),
    odd: found?.odd.includes(index) ?? false,
  }));
  return {
    quantity: quantity.name,
    unit: quantity.unit,
    kind: values[0]?.[0].profile.title ?? "",
    rows,
    limits: found && { middle: found.middle, low: found.low, high: found.high },
    said: found ? oddInWords(quantity, rows, found.middle) : [],
    shows: canShow(numbers.length, quantity.risk),
  };
};

const mattering = ({ matters }: Quantity, values: readonly number[]): number =>
  "share" in matters
    ? (matters.share * values.reduce((sum, value) => sum + value, 0)) / values.length
    : matters.difference;

const oddInWords = (
  { unit, decimals, matters }: Quantity,
  rows: readonly ChartRow[],
  middle: number,
): readonly string[] => {
  const odd = rows.filter((row) => row.odd);
  if (odd.length === 0) return [`None of these ${rows.length} differs from the others.`];
  return odd.map(({ serial, place, value, words }) => {
    const off = Math.abs(value - middle);
    const by =
      "share" in matters ? `${Math.round((100 * off) / middle)} %` : `${off.toFixed(decimals)}${unit && ` ${unit}`}`;
    return `${serial} (${place}) is odd: ${words}${unit && ` ${unit}`}, ${by} ${value < middle ? "below" : "above"} the middle of the others.`;
  });
};
