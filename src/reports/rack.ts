import { hundredths } from "../data/rack/check.ts";
import {
  behind,
  continuousLimit,
  drawsOn,
  leakageSum,
  MOST_LOADS,
  rcdsOf,
  runningSum,
  type StartPlan,
  startingSum,
} from "../data/rack/power.ts";
import {
  type Circuit,
  hasStart,
  lastSlot,
  type Rack,
  type RackFixture,
  type RackLine,
  type StartAddress,
} from "../data/rack/rack.ts";
import { spanInWords } from "./status-words.ts";
import { hanging, padded, widthOf } from "./wrap.ts";

const WIDTH = 80;

/** What a rack that has nothing wrong puts on its DMX lines and circuits. */
export const rackInWords = (rack: Rack): readonly string[] => [
  ...hanging("", `${rack.title}: ${rack.fixtures.length} fixtures, nothing wrong.`, WIDTH),
  "",
  ...rackDrawn(rack),
  "",
  "DMX lines",
  ...rack.lines.flatMap((line) => hanging("  ", lineInWords(rack, line), WIDTH)),
  ...(rack.circuits.length === 0 ? [] : ["", "Circuits"]),
  ...rack.circuits.flatMap((circuit) => hanging(`  ${circuit.name}  `, circuitInWords(rack, circuit), WIDTH)),
  ...rcdsOf(rack).map(
    (rcd) => `  RCD ${rcd.name}: ${hundredths(leakageSum(behind(rack, rcd)))} mA of leakage, of ${rcd.budget} mA`,
  ),
];

/**
 * The rack as it stands: one shelf under the other, its fixtures side by side, each
 * with where it listens and what feeds it.
 */
export const rackDrawn = ({ fixtures }: Rack): readonly string[] =>
  [...new Set(fixtures.map(({ place }) => place.shelf))].flatMap((shelf) => {
    const boxes = fixtures.filter(({ place }) => place.shelf === shelf).map(boxOf);
    return [shelf, ...inRows(boxes).flatMap(drawn)];
  });

/** Serial, universe and address, circuit; as wide as the widest of them. */
const boxOf = ({ serial, start, circuit }: RackFixture): readonly string[] => {
  const rows = [serial, start ? `${start.universe}/${start.slot}` : "no address", circuit ? `circuit ${circuit}` : ""];
  const wide = Math.max(...rows.map(widthOf));
  return rows.map((row) => padded(row, wide));
};

/** Sets boxes in rows, as many side by side as fit on a page. */
const inRows = (boxes: readonly (readonly string[])[]): readonly (readonly (readonly string[])[])[] => {
  const rows: (readonly string[])[][] = [];
  let wide = WIDTH;
  for (const box of boxes) {
    const more = widthOf(box[0] ?? "") + 3;
    if (wide + more > WIDTH - 4) {
      rows.push([]);
      wide = 0;
    }
    rows.at(-1)?.push(box);
    wide += more;
  }
  return rows;
};

const drawn = (boxes: readonly (readonly string[])[]): readonly string[] => {
  const edge = `  +${boxes.map((box) => "-".repeat(widthOf(box[0] ?? "") + 2)).join("+")}+`;
  const lines = [0, 1, 2].map((at) => `  |${boxes.map((box) => ` ${box[at] ?? ""} `).join("|")}|`);
  return [edge, ...lines.filter((line) => /[^|\s]/.test(line)), edge];
};

const lineInWords = ({ fixtures }: Rack, { universe, output, to }: RackLine): string => {
  const here = fixtures.filter(hasStart).filter(({ start }) => start.universe === universe);
  const loads = here.reduce((sum, { profile }) => sum + profile.unitLoads, 0);
  const place = `universe ${universe} on ${output}${to === undefined ? "" : ` to ${to}`}`;
  return here.length === 0
    ? `${place}: nothing`
    : `${place}: ${here.length} fixtures up to slot ${Math.max(...here.map(lastSlot))}, ${hundredths(loads)} unit loads, of ${MOST_LOADS} on each stretch of cable`;
};

const circuitInWords = ({ fixtures }: Rack, circuit: Circuit): string => {
  const draws = drawsOn(circuit, fixtures);
  const limits = `${hundredths(continuousLimit(circuit))} A (${circuit.continuous} of ${circuit.rating} A at ${circuit.volts} V)`;
  const atOnce = startingSum(draws);
  const over = atOnce > circuit.rating ? ": too much" : "";
  return `${hundredths(runningSum(draws))} A for hours, of ${limits}; ${hundredths(atOnce)} A if all start at once, as after a power cut${over}`;
};

/** In which order to switch on, printed before anything moves. */
export const startsInWords = ({ starts, total, uncounted }: StartPlan): readonly string[] => [
  ...(starts.length === 0
    ? []
    : [
        "Switching on, so that no circuit carries too much",
        ...starts.flatMap(({ at, fixtures }) => hanging(`  ${moment(at)}  `, byShelf(fixtures), WIDTH)),
        `  The last one has started after ${spanInWords(total)}.`,
        ...hanging("  ", DEFER, WIDTH),
      ]),
  ...(uncounted.length === 0
    ? []
    : hanging("", `Nobody said what feeds ${named(uncounted)}: think about their circuit before switching on.`, WIDTH)),
];

const DEFER =
  "Calculated from what the profiles say; the surge of the first moment is not in it. What a circuit and an RCD may carry is for your local code and a qualified person to say.";

const moment = (at: number): string => (at === 0 ? "at once" : `after ${spanInWords(at)}`).padEnd(17);

/** "top: SP-101, SP-102; bottom: LW-101". */
const byShelf = (fixtures: readonly RackFixture[]): string =>
  [...new Set(fixtures.map(({ place }) => place.shelf))]
    .map((shelf) => `${shelf}: ${named(fixtures.filter(({ place }) => place.shelf === shelf))}`)
    .join("; ");

const named = (fixtures: readonly RackFixture[]): string => fixtures.map(({ serial }) => serial).join(", ");

/** One sheet of A4 or letter paper in an ordinary printer's letters. */
const ROWS = 60;

/**
 * The list to carry to the rack, page by page: by shelf, in the order of the places, with a box to tick at every address
 * that has to be set. `after` are the fixtures of `before` in the same order, with their new addresses.
 */
export const addressList = (before: Rack, after: readonly RackFixture[]): readonly (readonly string[])[] => {
  const entries = after.map((fixture, index) => ({ fixture, was: before.fixtures[index]?.start }));
  const width = widestOf(after);
  const rows = [...new Set(after.map(({ place }) => place.shelf))].flatMap((shelf) => [
    "",
    shelf,
    ...entries.filter(({ fixture }) => fixture.place.shelf === shelf).map((entry) => rowOf(entry, width)),
  ]);
  const toSet = entries.filter((entry) => !stays(entry)).length;
  const heading = `${before.title}: ${toSet} of ${after.length} addresses to set`;
  return pagesOf(rows, ROWS - 1).map((page, index, all) => [
    all.length === 1 ? heading : `${heading}, page ${index + 1} of ${all.length}`,
    ...page,
  ]);
};

interface AddressEntry {
  readonly fixture: RackFixture;
  readonly was: StartAddress | undefined;
}

const widestOf = (fixtures: readonly RackFixture[]) => {
  const widest = (words: readonly string[]) => Math.max(...words.map(widthOf));
  return {
    position: widest(fixtures.map(({ place }) => place.position)),
    serial: widest(fixtures.map(({ serial }) => serial)),
    universe: widest(fixtures.map(({ start }) => String(start?.universe ?? ""))),
  };
};

const stays = ({ fixture: { start }, was }: AddressEntry): boolean =>
  start !== undefined && start.universe === was?.universe && start.slot === was.slot;

const rowOf = (entry: AddressEntry, width: ReturnType<typeof widestOf>): string => {
  const { place, serial, start, profile } = entry.fixture;
  const address = start
    ? `universe ${String(start.universe).padStart(width.universe)}  address ${String(start.slot).padStart(3)}`
    : "no room";
  return [
    `  ${stays(entry) ? "   " : "[ ]"} ${padded(place.position, width.position)}`,
    padded(serial, width.serial),
    address,
    profile.name,
  ].join("  ");
};

const pagesOf = (rows: readonly string[], size: number): readonly (readonly string[])[] =>
  rows.length === 0 ? [] : [rows.slice(0, size), ...pagesOf(rows.slice(size), size)];
