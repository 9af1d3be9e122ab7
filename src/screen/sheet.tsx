import { Box, Text } from "ink";
import { useSyncExternalStore } from "react";
import type { Pages } from "./pages-out.ts";
import type { Row } from "./rows.ts";

/** Draws the rows of a page; all that they say was decided before. */
export const Sheet = ({ pages, colour }: { readonly pages: Pages; readonly colour: "colour" | "plain" }) => {
  const { rows } = useSyncExternalStore(pages.subscribe, pages.take);
  return (
    <Box flexDirection="column">
      {rows.map((row, place) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place on the screen
        <Text key={place} wrap="truncate" {...(colour === "colour" ? LOOKS[row.look] : {})}>
          {row.text === "" ? " " : row.text}
        </Text>
      ))}
    </Box>
  );
};

const LOOKS: Readonly<Record<Row["look"], { bold?: boolean; dimColor?: boolean; color?: string }>> = {
  plain: {},
  strong: { bold: true },
  faint: { dimColor: true },
  alert: { bold: true, color: "red" },
};
