import { h, s } from "hastscript";
import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import type { Strip } from "../../diagnosis/places/strip.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { cleaning } from "../../domain/trade/cleanings.ts";
import { functionWords } from "../../domain/trade/functions.ts";
import { inspection } from "../../domain/trade/inspections.ts";
import { ROUTINES } from "../../domain/trade/routines.ts";
import type { BodyOf, EventBody } from "../../run/events/event.ts";
import { type RunView, viewOf } from "../../run/events/view.ts";
import { VERDICT_WORDS, type Verdict, verdictInWords } from "../../run/release/release-status.ts";
import { countsInWords, worthTelling } from "../before-after.ts";
import { type JobSheet, type SheetFault, worthReading } from "../job-sheet.ts";
import { cautionOf, ENDED, hiddenInWords, tally, whenInWords } from "../job-sheet-text.ts";
import { spoiltInWords, type Where, whatWasSeen } from "../sheet-step.ts";
import { documentOf, list, type Piece, section, table } from "./document.ts";
import { type ResultSign, resultGrid } from "./pictures.ts";

/** The job sheet as a page to print, send or keep. */
export const jobSheetPage = (sheet: JobSheet, photos: readonly SheetPhoto[] = []): string =>
  documentOf(`Job sheet: ${safeText(sheet.fixture.serial)}`, [
    ...heading(sheet),
    ...section("What was seen", seen(sheet)),
    ...section("Where it happened", sheet.where.map(place)),
    ...section("What it may be", maybe(sheet.faults)),
    ...section("What to do next", list(sheet.next)),
    ...section("By hand", list(sheet.byHand.map(safeText))),
    ...section("Photos", photos.map(photograph)),
    ...section("Before and after", beforeAndAfter(sheet)),
    ...section("Status", [
      ...list(sheet.standing.map(safeText)),
      ...(sheet.finish === "" ? [] : [h("p", `Next: ${sheet.finish}`)]),
    ]),
    ...section("Before it is used again", list(sheet.warnings)),
    h("footer", [...set(sheet), h("p", cautionOf(sheet))]),
  ]);

/** A picture within the page itself, or its name where it is not on this computer. */
const photograph = ({ words, file, picture }: SheetPhoto): Piece =>
  h("figure", [
    ...(picture === undefined ? [] : [h("img", { src: picture, alt: words })]),
    h("figcaption", picture === undefined ? `${words}: ${file} is not in this journal's folder` : words),
  ]);

const heading = (sheet: JobSheet): readonly Piece[] => [
  h("h1", safeText(sheet.fixture.serial)),
  ...verdictPieces(sheet.verdict),
  ...(sheet.dueNext === "" ? [] : [h("p", safeText(sheet.dueNext))]),
  h("p", `${tally(sheet.steps)}; ${ENDED[sheet.ended]}`),
  ...(sheet.rig.spoilt > 0 ? [h("p", spoiltInWords(sheet.rig))] : []),
  ...(sheet.simulated ? [h("p", { class: "notice" }, "SIMULATED: a simulated fixture, not a real one.")] : []),
  h("dl", [
    ...pair(
      "Fixture",
      `${safeText(sheet.profile)}, universe ${sheet.fixture.universe}, address ${sheet.fixture.address}`,
    ),
    ...pair("Sequence", safeText(sheet.sequence)),
    ...pair("When", whenInWords(sheet)),
    ...pair("Run", safeText(sheet.run)),
    ...(sheet.replays === undefined ? [] : pair("Plays again", safeText(sheet.replays))),
  ]),
];

/** What a person may do with it, before anything else; at most three reasons, then their number. */
const verdictPieces = (verdict: Verdict): readonly Piece[] => {
  const wrong = verdict.kind === "do-not-use" || verdict.kind === "needs-work";
  const words =
    verdict.kind === "released"
      ? verdictInWords(verdict)
      : VERDICT_WORDS[verdict.kind].replace(/^./, (letter) => letter.toUpperCase());
  const more = verdict.because.length - MOST_REASONS;
  return [
    h("p", { class: wrong ? "verdict wrong" : "verdict" }, safeText(words)),
    ...list([...verdict.because.slice(0, MOST_REASONS).map(safeText), ...(more > 0 ? [`and ${more} more`] : [])]),
  ];
};

const MOST_REASONS = 3;

const pair = (term: string, words: string): readonly Piece[] => [h("dt", term), h("dd", words)];

const seen = (sheet: JobSheet): readonly Piece[] => {
  const all = whatWasSeen(sheet);
  if (all.length === 0) return [h("p", "Nothing wrong.")];
  return table(
    "Every step that did not pass",
    ["Step", "Result", "Seen"],
    all.map(({ step, result, about }) => [step, result, about]),
  );
};

/** Two columns, before and after; how often it came and went stands beside its name. */
const beforeAndAfter = ({ compared }: JobSheet): readonly Piece[] => [
  ...resultGrid(
    "Every movement that was not good before, or is not now.",
    "Movement",
    ["before", "after"],
    worthTelling(compared).map(({ words, before, after, became, passes }) => ({
      name: `${words}: ${became}${passes === "" ? "" : `; ${passes}`}`,
      results: [told(before), told(after)],
    })),
  ),
  ...list(countsInWords(compared)),
];

const told = (result: JobSheet["compared"][number]["before"]): ResultSign | undefined =>
  result === "pass" || result === "fail" || result === "unsure" ? result : undefined;

const place = ({ function: id, words, strip }: Where): Piece =>
  h("figure", [
    stripDrawing(strip, `Presses along the travel of ${functionWords(id)}: ${words.join("; ")}`),
    h("figcaption", `${functionWords(id)}: ${words.join("; ")}`),
  ]);

const maybe = (faults: readonly SheetFault[]): readonly Piece[] =>
  faults.length === 0 ? [] : [h("ol", worthReading(faults).map(fault))];

const fault = ({ title, belief, because, against, todo }: SheetFault): Piece =>
  h("li", [
    h("strong", title),
    `, ${belief}`,
    ...[
      ["for", because.join("; ")],
      ["against", against.join("; ")],
      ["to do", todo],
    ].flatMap(([what = "", words = ""]) =>
      words === "" ? [] : [h("p", [h("span", { class: "quiet" }, `${what}: `), words])],
    ),
  ]);

const set = (sheet: JobSheet): readonly Piece[] =>
  sheet.simulated ? [h("p", `Hidden fault: ${hiddenInWords(sheet)}.`)] : [];

const WIDTH = 600;
const SIDE = 8;
const TRAVEL_Y = 30;

/** The travel as a line, presses as ticks: on the way up above it, on the way down below; where it happened in a frame. */
const stripDrawing = ({ ticks, place, scale }: Strip, label: string): Piece =>
  s("svg", { viewBox: `0 0 ${WIDTH} 74`, role: "img", ariaLabel: label }, [
    s("line", { class: "travel", x1: SIDE, x2: WIDTH - SIDE, y1: TRAVEL_Y, y2: TRAVEL_Y }),
    ...ticks.map(({ way, at }) => {
      const [from, to] = way === "up" ? [TRAVEL_Y - 18, TRAVEL_Y - 3] : [TRAVEL_Y + 3, TRAVEL_Y + 18];
      return s("line", { class: "tick", x1: along(at), x2: along(at), y1: from, y2: to });
    }),
    ...(place ? [frame(place)] : []),
    ...scale.map((words, index) =>
      s("text", { x: along(index / 2), y: 68, "text-anchor": ["start", "middle", "end"][index] ?? "middle" }, words),
    ),
  ]);

const frame = ({ from, to }: NonNullable<Strip["place"]>): Piece =>
  s("rect", {
    class: "place",
    x: along(from) - 2,
    width: along(to) - along(from) + 4,
    y: TRAVEL_Y - 22,
    height: 44,
  });

const along = (share: number): number => Math.round((SIDE + share * (WIDTH - 2 * SIDE)) * 10) / 10;

/** A photo for a page: what it shows, under which name it is kept, and the picture itself as a data address. */
export interface SheetPhoto {
  readonly words: string;
  readonly file: string;
  readonly picture: string | undefined;
}

/** The photos of a run, in the order in which they were taken. */
export const photosIn = (events: readonly EventBody[]): readonly Omit<SheetPhoto, "picture">[] => {
  const view = viewOf(events);
  return view.photos.map(({ file, of }) => ({ file, words: wordsOf(view, of) }));
};

const wordsOf = ({ steps }: RunView, of: BodyOf<"photo-taken">["of"]): string => {
  switch (of.what) {
    case "step": {
      const step = steps.find(({ id }) => id === of.step);
      if (!step) return of.step;
      return `Seen: ${[...step.functions.map(functionWords), ROUTINES[step.routine].words].join(", ")}`;
    }
    case "look":
      return `Inspection: ${inspection(of.inspection).look}`;
    case "cleaning":
      return `Cleaning: ${cleaning(of.cleaning).what}`;
    case "fault":
      return "What was wrong";
    case "repair":
      return of.fault === undefined ? "Repair" : `Repair: ${knownFault(of.fault).title}`;
    case "fixture":
      return "The fixture";
    default:
      return of satisfies never;
  }
};
