import { s } from "hastscript";
import type { Strip } from "../../diagnosis/places/strip.ts";
import type { Piece } from "./document.ts";

const WIDTH = 600;
const SIDE = 8;
const TRAVEL_Y = 30;

/** The travel as a line, presses as ticks: on the way up above it, on the way down below; where it happened in a frame. */
export const stripDrawing = ({ ticks, place, scale }: Strip, label: string): Piece =>
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
