import { safeText } from "../domain/problem/terminal.ts";
import type { Seconds } from "../domain/units.ts";
import { spanInWords } from "./span.ts";
import { hanging } from "./wrap.ts";

/** What came of a rack run: every fixture in a line, and what it cost in time. */
export interface RackSheet {
  readonly run: string;
  readonly title: string;
  readonly simulated: boolean;
  readonly ended: string;
  readonly fixtures: readonly FixtureLine[];
  /** From the first movement to the end; undefined where nobody knows any more: simulated time is not kept. */
  readonly took: Seconds | undefined;
  /** What the same steps would have taken one fixture after the other, by the plan. */
  readonly oneByOne: Seconds;
}

export interface FixtureLine {
  readonly serial: string;
  readonly place: string;
  readonly run: string;
  /** "nothing seen", "odd", "pressed", "withdrawn", "not finished". */
  readonly state: string;
  /** What was named, in words. */
  readonly symptoms: readonly string[];
  /** The likeliest fault and how likely, in words; undefined when nothing was named. */
  readonly mayBe: string | undefined;
  /** Faults that had been set in a simulated fixture. */
  readonly set: readonly string[];
}

const WIDTH = 80;

export const tellRackSheet = (sheet: RackSheet): string =>
  [
    ...hanging("", `Rack: ${sheet.title}; run ${sheet.run}; ${sheet.ended}.`, WIDTH),
    ...(sheet.simulated ? ["SIMULATED: simulated fixtures, not real ones."] : []),
    "",
    ...oddLines(sheet),
    ...quietLines(sheet, "nothing seen", "Nothing seen"),
    ...quietLines(sheet, "not finished", "Not finished"),
    ...quietLines(sheet, "withdrawn", "Withdrawn"),
    "",
    ...hanging("", timeInWords(sheet), WIDTH),
    "",
    ...hanging("", DEFER, WIDTH),
  ]
    .map(safeText)
    .join("\n");

export const DEFER = "Limber does not replace the maker's manual, local codes or licensed electrical work.";

const oddLines = ({ fixtures }: RackSheet): readonly string[] => {
  const odd = fixtures.filter(({ state }) => state === "odd");
  const pressed = fixtures.filter(({ state }) => state === "pressed");
  if (odd.length + pressed.length === 0) return ["Nothing wrong was seen on any fixture that was watched.", ""];
  if (odd.length === 0) return pressedLines(pressed);
  return [
    `Something wrong with ${odd.length === 1 ? "one" : odd.length}`,
    ...odd.flatMap(({ serial, place, run, symptoms, mayBe, set }) => [
      ...hanging("  ", `${serial}, ${place}: ${symptoms.join("; ")}`, WIDTH),
      ...(mayBe === undefined ? [] : hanging("    ", `${mayBe}; job sheet: limber sheet ${run}`, WIDTH)),
      ...(set.length === 0 ? [] : hanging("    ", `hidden fault: ${set.join(", ")}`, WIDTH)),
    ]),
    "",
    ...pressedLines(pressed),
  ];
};

/** Somebody pressed for them, and the run ended before it was asked what was seen. */
const pressedLines = (pressed: readonly FixtureLine[]): readonly string[] =>
  pressed.length === 0
    ? []
    : [
        ...hanging(
          "Pressed for, not yet answered: ",
          pressed.map(({ serial, place }) => `${serial}, ${place}`).join("; "),
          WIDTH,
        ),
        "",
      ];

const quietLines = ({ fixtures }: RackSheet, state: string, title: string): readonly string[] => {
  const some = fixtures.filter((one) => one.state === state);
  const told = some.map(({ serial, set }) => `${serial}${set.length > 0 ? ` (hidden fault: ${set.join(", ")})` : ""}`);
  return some.length === 0 ? [] : hanging(`${title}: `, told.join(", "), WIDTH);
};

/** Answering is not in the plan of one by one, and moving the cable neither. */
export const timeInWords = ({ took, oneByOne, fixtures, simulated }: RackSheet): string =>
  took === undefined
    ? `One by one the movements alone would have taken ${spanInWords(oneByOne)}.`
    : `${spanInWords(took)} for ${fixtures.length} fixtures, ${spanInWords(took / Math.max(1, fixtures.length))} each; one by one the movements alone ` +
      `would have taken ${spanInWords(oneByOne)}: ${percent(took / oneByOne)} of that.${simulated ? " Simulated time: nobody had to think or to walk." : ""}`;

const percent = (share: number): string => `${Math.round(share * 100)} %`;
