import { Box, Text } from "ink";
import { createElement, type ReactElement, useSyncExternalStore } from "react";
import type { Pages } from "./pages-out.ts";
import type { Row } from "./rows.ts";

/** Draws the rows of a page; all that they say was decided before. Not written as JSX: see screen.ts. */
export const Sheet = ({
  pages,
  colour,
}: {
  readonly pages: Pages;
  readonly colour: "colour" | "plain";
}): ReactElement => {
  const { rows } = useSyncExternalStore(pages.subscribe, pages.take);
  const drawn = rows.map((row, place) => rowOf(row, place, colour === "colour" ? LOOKS[row.look] : {}));
  return createElement(Box, { flexDirection: "column" }, ...drawn);
};

interface Look {
  readonly bold?: boolean;
  readonly dimColor?: boolean;
  readonly color?: string;
}

/** An empty row would have no height. */
const rowOf = ({ text }: Row, place: number, look: Look): ReactElement =>
  createElement(Text, { key: place, wrap: "truncate", ...look }, text === "" ? " " : text);

const LOOKS: Readonly<Record<Row["look"], Look>> = {
  plain: {},
  strong: { bold: true },
  faint: { dimColor: true },
  alert: { bold: true, color: "red" },
};
