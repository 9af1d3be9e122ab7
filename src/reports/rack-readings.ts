import { type OddOnes, oddInRack } from "../data/rack/odd.ts";
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
}

/** Everything that was read, kind by kind: light at one distance, colour, travel times. Only fixtures of one kind are compared. */
export const readingsCharts = (readings: readonly Readings[]): readonly ReadingsChart[] => {
  const kinds = [...new Set(readings.map(({ fixture }) => fixture.profile.name))];
  const series = kinds.flatMap((kind) => {
    const of = readings.filter(({ fixture }) => fixture.profile.name === kind);
    return [...lightSeries(of), ...colourSeries(of), ...travelSeries(of)].filter(({ values }) => values.length > 0);
  });
  const found = oddInRack(
    series.map(({ quantity, values }) => {
      const numbers = values.map(([, value]) => value);
      return { values: numbers, matters: mattering(quantity, numbers) };
    }),
  );
  const sharers = found.filter((one) => one !== undefined).length;
  return series.map((one, n) => chartOf(one, found[n], sharers));
};

type Values = readonly (readonly [RackFixture, number])[];

/** One quantity of all fixtures of one kind. */
interface Series {
  readonly quantity: Quantity;
  readonly values: Values;
  /** What must be said of how it was read. */
  readonly remarks: readonly string[];
}

const lightSeries = (readings: readonly Readings[]): readonly Series[] => {
  const metres = usualDistance(readings.flatMap(({ light }) => light?.at ?? []));
  if (metres === undefined) return [];
  const values = valuesOf(readings, ({ light }) => light && luxAt(light, metres));
  const elsewhere = readings.filter(({ light }) => light && light.at !== metres).map(({ fixture }) => fixture.serial);
  return [
    {
      quantity: { name: `light at ${metres} m`, unit: "lux", decimals: 0, matters: { share: 0.05 } },
      values,
      remarks: elsewhere.length > 0 ? [calculated(elsewhere, metres)] : [],
    },
  ];
};

const calculated = (serials: readonly string[], metres: number): string =>
  `${serials.join(", ")}: read at another distance and calculated to ${metres} m by its square, which a narrow beam follows only roughly.`;

/** x and y are judged apart; the distance from the middle alone would be named far too often, since x and y go together. */
const colourSeries = (readings: readonly Readings[]): readonly Series[] =>
  (["x", "y"] as const).map((axis) => ({
    quantity: { name: `colour ${axis}`, unit: "", decimals: 4, matters: { difference: 0.004 } },
    values: valuesOf(readings, ({ colour }) => colour?.[axis]),
    remarks: [],
  }));

const travelSeries = (readings: readonly Readings[]): readonly Series[] =>
  FUNCTION_IDS.map((id) => ({
    quantity: { name: `full travel of ${functionWords(id)}`, unit: "s", decimals: 2, matters: { difference: 0.2 } },
    values: valuesOf(readings, ({ travel }) => travel.get(id)),
    remarks: [],
  }));

const valuesOf = (readings: readonly Readings[], take: (one: Readings) => number | undefined): Values =>
  readings.flatMap((one) => {
    const value = take(one);
    return value === undefined ? [] : [[one.fixture, value] as const];
  });

const chartOf = ({ quantity, values, remarks }: Series, found: OddOnes | undefined, sharers: number): ReadingsChart => {
  const rows = values.map(([fixture, value], index) => ({
    serial: fixture.serial,
    place: placeInWords(fixture.place),
    value,
    words: value.toFixed(quantity.decimals),
    odd: found?.odd.includes(index) ?? false,
  }));
  const bounded = found !== undefined && Number.isFinite(found.high);
  return {
    quantity: quantity.name,
    unit: quantity.unit,
    kind: values[0]?.[0].profile.title ?? "",
    rows,
    limits: bounded ? { middle: found.middle, low: found.low, high: found.high } : undefined,
    said: [...(found ? oddInWords(quantity, rows, found.middle) : []), ...remarks],
    shows: canShow(values.length, sharers),
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
    return `${serial} (${place}) is suspect: ${words}${unit && ` ${unit}`}, ${by} ${value < middle ? "below" : "above"} the middle of the others.`;
  });
};
