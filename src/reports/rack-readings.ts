import { type OddOnes, oddInRack } from "../data/rack/odd.ts";
import { placeInWords, type RackFixture } from "../data/rack/rack.ts";
import { luxAt, type Readings, usualDistance } from "../data/rack/readings.ts";
import { FUNCTION_IDS, functionWords } from "../domain/trade/functions.ts";

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
  /** What readings of this number of fixtures can and cannot show. */
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

interface MeasuredQuantity {
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
  readonly quantity: MeasuredQuantity;
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

const mattering = ({ matters }: MeasuredQuantity, values: readonly number[]): number =>
  "share" in matters
    ? (matters.share * values.reduce((sum, value) => sum + value, 0)) / values.length
    : matters.difference;

const oddInWords = (
  { unit, decimals, matters }: MeasuredQuantity,
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

interface Detectable {
  readonly size: number;
  /** How often one or two odd ones that are six times as far off as sound ones scatter are named, in tenths. */
  readonly one: number;
  readonly two: number;
}

/**
 * By how many readings of the rack share the risk of a false name; a number in between counts as the next greater, a size in
 * between as the next smaller. Simulated, 4000 racks of each; sound ones scatter normally.
 */
const SHOWN: readonly (readonly [sharers: number, readonly Detectable[]])[] = [
  [
    1,
    [
      { size: 4, one: 3, two: 0 },
      { size: 5, one: 4, two: 0 },
      { size: 6, one: 6, two: 1 },
      { size: 7, one: 7, two: 1 },
      { size: 8, one: 8, two: 6 },
      { size: 12, one: 9, two: 8 },
      { size: 24, one: 10, two: 10 },
    ],
  ],
  [
    3,
    [
      { size: 4, one: 1, two: 0 },
      { size: 5, one: 2, two: 0 },
      { size: 6, one: 3, two: 0 },
      { size: 7, one: 4, two: 0 },
      { size: 8, one: 6, two: 3 },
      { size: 12, one: 8, two: 7 },
      { size: 24, one: 10, two: 9 },
    ],
  ],
  [
    6,
    [
      { size: 4, one: 0, two: 0 },
      { size: 5, one: 1, two: 0 },
      { size: 6, one: 2, two: 0 },
      { size: 7, one: 3, two: 0 },
      { size: 8, one: 5, two: 2 },
      { size: 12, one: 7, two: 5 },
      { size: 24, one: 9, two: 8 },
    ],
  ],
  [
    12,
    [
      { size: 4, one: 0, two: 0 },
      { size: 5, one: 0, two: 0 },
      { size: 6, one: 1, two: 0 },
      { size: 7, one: 1, two: 0 },
      { size: 8, one: 3, two: 0 },
      { size: 12, one: 6, two: 3 },
      { size: 24, one: 9, two: 7 },
    ],
  ],
];

/**
 * What readings of one kind of fixture can and cannot show. `count` is how many fixtures were read, and `sharers` is how
 * many readings of the whole rack share the risk that a sound fixture is named.
 */
const canShow = (count: number, sharers: number): string => {
  const [, sizes] = SHOWN.find(([many]) => many >= sharers) ?? SHOWN.at(-1) ?? [0, []];
  const shown = sizes.findLast(({ size }) => size <= count);
  if (!shown)
    return `With ${count} of a kind no reading can say which one is suspect: compare them by eye, or with one that is known to be good.`;
  const { one, two } = shown;
  return `What ${count} of a kind can show: one that is six times as far off as good ones differ among themselves is named ${often(one)}, two such ${often(two)}. With nothing wrong, no more than one rack of 20 has a name all the same, all its readings taken together. Simulated.`;
};

const often = (tenths: number): string =>
  tenths === 0 ? "hardly ever" : tenths === 10 ? "nearly always" : `${tenths} times in 10`;
