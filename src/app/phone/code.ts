import { encode } from "uqr";

/**
 * A QR code (ISO/IEC 18004) as rows of a terminal, two rows of squares in one: always dark on
 * light, whatever the terminal's own colours.
 */
export const codeRows = (text: string): readonly string[] => {
  const { data } = encode(text, { ecc: "L", border: 2 });
  const rows: string[] = [];
  for (let y = 0; y < data.length; y += 2) {
    const [upper = [], lower = []] = [data[y], data[y + 1]];
    const cells = upper.map((isDark, x) => CELLS[`${isDark ? 1 : 0}${lower[x] ? 1 : 0}`] ?? " ");
    rows.push(`${BLACK_ON_WHITE}${cells.join("")}${AS_BEFORE}`);
  }
  return rows;
};

/** Blocks are drawn in the colour of letters. */
const CELLS: Readonly<Record<string, string>> = { "00": " ", "10": "\u2580", "01": "\u2584", "11": "\u2588" };
/** Select Graphic Rendition (ECMA-48, 8.3.117), with the bright white that most terminals know. */
const BLACK_ON_WHITE = "\u001b[30;107m";
const AS_BEFORE = "\u001b[0m";
