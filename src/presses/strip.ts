import type { Travel } from "../profile/profile.ts";
import { type Assessment, whereabouts } from "./assessment.ts";
import { putBack, usualDelay } from "./delay.ts";
import type { Way } from "./pass.ts";
import { measured } from "./place-words.ts";
import { USUAL_REACTION } from "./reaction.ts";

/**
 * The presses along the travel, as four rows of so many columns: those on the way up above, those on the way down below, the
 * travel between them with the place marked, and its ends in figures. Every press stands where the fixture was before lag and
 * reaction; two in one column are a figure.
 */
export const stripRows = (assessment: Assessment, width: number): readonly string[] => {
  const travel = assessment.watches[0]?.travel;
  if (!travel) return [];
  const ticks = ticksOf(assessment);
  const row = (way: Way, mark: string) =>
    tickRow(
      ticks.filter((tick) => tick.way === way).map(({ place }) => columnOf(travel, place, width)),
      mark,
      width,
    );
  return [row("up", ">"), lineRow(assessment, travel, width), row("down", "<"), scaleRow(travel, width)];
};

interface Tick {
  readonly way: Way;
  readonly place: number;
}

const ticksOf = ({ watches, place }: Assessment): readonly Tick[] =>
  watches.flatMap((watch) =>
    putBack(watch, place?.delay ?? usualDelay(watch, USUAL_REACTION)).map(({ pass, place: at }) => ({
      way: pass.way,
      place: at,
    })),
  );

/** The low end, where the DMX value is 0, is at the left. */
const columnOf = ({ from, to }: Travel, place: number, width: number): number => {
  const share = Math.min(1, Math.max(0, (place - from) / (to - from)));
  return Math.round(share * (width - 1));
};

const tickRow = (columns: readonly number[], mark: string, width: number): string =>
  Array.from({ length: width }, (_, column) => {
    const count = columns.filter((one) => one === column).length;
    return count === 0 ? " " : count === 1 ? mark : String(Math.min(9, count));
  }).join("");

const lineRow = (assessment: Assessment, travel: Travel, width: number): string => {
  const cells = Array.from({ length: width }, () => "-");
  cells[0] = "|";
  cells[width - 1] = "|";
  const marked = whereabouts(assessment);
  if (!marked) return cells.join("");
  const [left = 0, right = 0] = [marked.low, marked.high]
    .map((place) => columnOf(travel, place, width))
    .sort((a, b) => a - b);
  for (let column = left; column <= right; column++) cells[column] = "=";
  cells[left] = "[";
  cells[Math.max(right, left + 1)] = "]";
  return cells.slice(0, width).join("");
};

const scaleRow = (travel: Travel, width: number): string => {
  const [low, middle, high] = [travel.from, (travel.from + travel.to) / 2, travel.to].map((v) => measured(travel, v));
  const [left = "", centre = "", right = ""] = [low, middle, high];
  const gap = width - left.length - centre.length - right.length;
  if (gap < 4) return `${left}${right.padStart(Math.max(right.length + 1, width - left.length))}`.slice(0, width);
  const before = Math.max(2, Math.round(width / 2 - centre.length / 2) - left.length);
  return `${left}${" ".repeat(before)}${centre}${right.padStart(width - left.length - before - centre.length)}`;
};
