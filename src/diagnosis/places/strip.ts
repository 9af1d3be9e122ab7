import type { Travel } from "../../data/profile/profile.ts";
import { type Assessment, whereabouts } from "./assessment.ts";
import { putBack, USUAL_REACTION, usualDelay } from "./delay.ts";
import type { TravelWay } from "./pass.ts";
import { wayWords } from "./pattern.ts";
import { measured } from "./words.ts";

/** The presses along the travel, ready to be drawn: places are shares of the travel, 0 at the end where the DMX value is 0. */
export interface Strip {
  /** Every press stands where the fixture was before lag and reaction. */
  readonly ticks: readonly { readonly way: TravelWay; readonly at: number }[];
  /** Where it happened, as exactly as it is known. */
  readonly place: { readonly from: number; readonly to: number } | undefined;
  /** What stands at the low end, the middle and the high end: "-270 degrees". */
  readonly scale: readonly [low: string, middle: string, high: string];
}

/** The travel with its presses, to be drawn. Undefined when there was nothing to watch. */
export const placeStrip = (assessment: Assessment): Strip | undefined => {
  const travel = assessment.watches[0]?.travel;
  if (!travel) return undefined;
  const { from, to } = travel;
  return {
    ticks: assessment.watches.flatMap((watch) =>
      putBack(watch, assessment.place?.delay ?? usualDelay(watch, USUAL_REACTION)).map(({ pass, place }) => ({
        way: pass.way,
        at: shareOf(travel, place),
      })),
    ),
    place: placeOf(assessment, travel),
    scale: [measured(travel, from), measured(travel, (from + to) / 2), measured(travel, to)],
  };
};

const placeOf = (assessment: Assessment, travel: Travel): Strip["place"] => {
  const marked = whereabouts(assessment);
  if (!marked) return undefined;
  const [from = 0, to = 0] = [shareOf(travel, marked.low), shareOf(travel, marked.high)].sort((a, b) => a - b);
  return { from, to };
};

const shareOf = ({ from, to }: Travel, place: number): number => Math.min(1, Math.max(0, (place - from) / (to - from)));

/**
 * The strip as four rows of `width` columns: presses on the way up above, those on the way down below, the travel between
 * them with the place marked, and its ends in figures. Two presses in one column are a figure.
 */
export const placeStripRows = ({ ticks, place, scale }: Strip, width: number): readonly string[] => {
  const row = (way: TravelWay, mark: string) =>
    tickRow(
      ticks.filter((tick) => tick.way === way).map(({ at }) => columnOf(at, width)),
      mark,
      width,
    );
  return [row("up", ">"), lineRow(place, width), row("down", "<"), scaleRow(scale, width)];
};

const columnOf = (share: number, width: number): number => Math.round(share * (width - 1));

const tickRow = (columns: readonly number[], mark: string, width: number): string =>
  Array.from({ length: width }, (_, column) => {
    const count = columns.filter((one) => one === column).length;
    return count === 0 ? " " : count === 1 ? mark : String(Math.min(9, count));
  }).join("");

const lineRow = (place: Strip["place"], width: number): string => {
  const cells = Array.from({ length: width }, () => "-");
  cells[0] = "|";
  cells[width - 1] = "|";
  if (!place) return cells.join("");
  const [left, right] = [columnOf(place.from, width), columnOf(place.to, width)];
  for (let column = left; column <= right; column++) cells[column] = "=";
  cells[left] = "[";
  cells[Math.max(right, left + 1)] = "]";
  return cells.slice(0, width).join("");
};

const scaleRow = ([left, centre, right]: Strip["scale"], width: number): string => {
  const gap = width - left.length - centre.length - right.length;
  if (gap < 4) return `${left}${right.padStart(Math.max(right.length + 1, width - left.length))}`.slice(0, width);
  const before = Math.max(2, Math.round(width / 2 - centre.length / 2) - left.length);
  return `${left}${" ".repeat(before)}${centre}${right.padStart(width - left.length - before - centre.length)}`;
};

/** The presses of each way, for whoever hears a page read: "pressed on the way up (DMX rising) at 84, 92 and 90 degrees". */
export const ticksInWords = (assessment: Assessment): readonly string[] => {
  const [strip, travel] = [placeStrip(assessment), assessment.watches[0]?.travel];
  if (!strip || !travel) return [];
  return (["up", "down"] as const).flatMap((way) => {
    const places = strip.ticks
      .filter((tick) => tick.way === way)
      .map(({ at }) => Math.round(travel.from + at * (travel.to - travel.from)));
    if (places.length === 0) return [];
    const unit = travel.unit === "deg" ? "degrees" : "%";
    return [`Pressed on the way ${wayWords(way)} at ${places.sort((a, b) => a - b).join(", ")} ${unit}.`];
  });
};
