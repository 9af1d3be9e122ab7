import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import type { MeanMending, Stock, StockFault, StockFixture, StockPart, StockReturn } from "../run/memory/stock.ts";
import { STATE_WORDS, STATES, type StateId } from "../run/release/release-status.ts";
import { hoursInWords, leftOutInWords, many, stockTally } from "./status-words.ts";
import { hanging, wrapped } from "./wrap.ts";

const WIDTH = 78;
/** The states in order: what needs most work comes first. */
const STATES_IN_ORDER: readonly StateId[] = [...STATES.map(({ id }) => id), "ready"];

/** The stock in words, for a terminal or a printer; every text from outside is made harmless. */
export const tellStock = (stock: Stock): string =>
  [
    `Stock: ${stockTally(stock.fixtures)}`,
    ...(stock.simulated ? ["SIMULATED: simulated fixtures, not real ones."] : []),
    ...(stock.fixtures.length === 0 && stock.leftOut.otherKind > 0
      ? [OTHERS[stock.simulated ? "real" : "simulated"]]
      : []),
    ...STATES_IN_ORDER.flatMap((state) => stateLines(stock, state)),
    ...section("Faults found, the commonest first", stock.faults.map(tellFault)),
    ...section("Parts needed, for faults found in fixtures that have not passed since", stock.parts.map(tellPart)),
    ...section("Came back with the same fault", stock.returning.map(tellReturn)),
    ...section(
      "How long a run takes, finished runs, breaks left out",
      stock.minutes.map(({ mean, sequence, profile, runs }) => [
        `${mean.toFixed(1)} min`,
        `${safeText(sequence)} on ${safeText(profile)}, ${runs === 1 ? "one run" : `mean of ${many(runs, "run")}`}`,
      ]),
    ),
    ...section("How long repairs take, as recorded", stock.mending.map(tellMending)),
    "",
    ...wrapped(leftOutInWords(stock), WIDTH),
  ].join("\n");

const OTHERS = {
  simulated: "All fixtures in this journal are simulated: limber stock --simulated shows them.",
  real: "All fixtures in this journal are real: limber stock shows them.",
};

const stateLines = ({ fixtures }: Stock, state: StateId): readonly string[] =>
  section(capital(STATE_WORDS[state]), fixtures.filter((one) => one.state === state).map(tellFixture));

const tellFixture = ({ serial, profile, at, because, counters }: StockFixture): MarkedLine => {
  const [first, ...others] = because;
  const reason =
    first === undefined ? "" : `: ${safeText(first)}${others.length > 0 ? `, and ${others.length} more` : ""}`;
  const hours = [
    ...(counters?.LAMP_HOURS === undefined ? [] : [`lamp ${counters.LAMP_HOURS} h`]),
    ...(counters?.LAMP_STRIKES === undefined ? [] : [many(counters.LAMP_STRIKES, "strike")]),
    ...(counters?.DEVICE_HOURS === undefined ? [] : [`device ${counters.DEVICE_HOURS} h`]),
  ];
  const counted = hours.length > 0 ? ` (${hours.join(", ")})` : "";
  return [at.slice(0, 10), `${safeText(serial)}, ${safeText(profile)}${counted}${reason}`];
};

const tellFault = ({ fault, profile, found, serials }: StockFault): MarkedLine => [
  String(found),
  `${knownFault(fault).title} - ${safeText(profile)}: ${serials.map(safeText).join(", ")}`,
];

const tellPart = ({ part, fixtures }: StockPart): MarkedLine => [
  String(fixtures.length),
  `${part}: ${fixtures.map(({ serial }) => safeText(serial)).join(", ")}`,
];

const tellReturn = ({ serial, fault, times, hours }: StockReturn): MarkedLine => [
  many(times, "time"),
  `${safeText(serial)}: ${knownFault(fault).title}, last after ${hoursInWords(hours)}`,
];

const tellMending = ({ mended, times, mean }: MeanMending): MarkedLine => [
  `${mean.toFixed(0)} min`,
  `${mended === "something-else" ? "something else" : knownFault(mended).title}, ${times === 1 ? "recorded once" : `mean of ${many(times, "time")}`}`,
];

/** A number or a date, and what it belongs to. */
type MarkedLine = readonly [mark: string, words: string];

const section = (title: string, lines: readonly MarkedLine[]): readonly string[] =>
  lines.length === 0
    ? []
    : ["", title, ...lines.flatMap(([mark, words]) => hanging(`  ${mark.padEnd(10)}  `, words, WIDTH))];

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
