/** Letters of our own, five dots wide and five high: for somebody three metres away. */
const DOTS: Readonly<Record<string, string>> = {
  A: ".###. #...# ##### #...# #...#",
  B: "####. #...# ####. #...# ####.",
  C: ".#### #.... #.... #.... .####",
  D: "####. #...# #...# #...# ####.",
  E: "##### #.... ####. #.... #####",
  F: "##### #.... ####. #.... #....",
  G: ".#### #.... #..## #...# .####",
  H: "#...# #...# ##### #...# #...#",
  I: ".###. ..#.. ..#.. ..#.. .###.",
  J: "..### ...#. ...#. #..#. .##..",
  K: "#...# #..#. ###.. #..#. #...#",
  L: "#.... #.... #.... #.... #####",
  M: "#...# ##.## #.#.# #...# #...#",
  N: "#...# ##..# #.#.# #..## #...#",
  O: ".###. #...# #...# #...# .###.",
  P: "####. #...# ####. #.... #....",
  Q: ".###. #...# #.#.# #..#. .##.#",
  R: "####. #...# ####. #..#. #...#",
  S: ".#### #.... .###. ....# ####.",
  T: "##### ..#.. ..#.. ..#.. ..#..",
  U: "#...# #...# #...# #...# .###.",
  V: "#...# #...# #...# .#.#. ..#..",
  W: "#...# #...# #.#.# ##.## #...#",
  X: "#...# .#.#. ..#.. .#.#. #...#",
  Y: "#...# .#.#. ..#.. ..#.. ..#..",
  Z: "##### ...#. ..#.. .#... #####",
  0: ".###. #..## #.#.# ##..# .###.",
  1: "..#.. .##.. ..#.. ..#.. .###.",
  2: "####. ....# .###. #.... #####",
  3: "####. ....# .###. ....# ####.",
  4: "#..#. #..#. ##### ...#. ...#.",
  5: "##### #.... ####. ....# ####.",
  6: ".###. #.... ####. #...# .###.",
  7: "##### ....# ...#. ..#.. ..#..",
  8: ".###. #...# .###. #...# .###.",
  9: ".###. #...# .#### ....# .###.",
  ",": "..... ..... ..... ..#.. .#...",
  "?": ".###. #...# ...#. ..... ..#..",
  "-": "..... ..... .###. ..... .....",
  " ": "..... ..... ..... ..... .....",
};
const LETTER_HIGH = 5;
const LETTER_WIDE = 6;

/**
 * Words as rows of blocks, broken at blanks, as large as fits into `columns` and `rows`; undefined
 * when not even the flattest letters fit.
 */
export const largeLetters = (words: string, columns: number, rows: number): readonly string[] | undefined => {
  for (const size of sizes(rows)) {
    const lines = broken(words.toUpperCase(), Math.floor((columns + size.wide) / (LETTER_WIDE * size.wide)));
    const height = lines && lines.length * (size.high + 1) - 1;
    if (lines && height !== undefined && height <= rows)
      return lines.flatMap((line, index) => [...(index > 0 ? [""] : []), ...size.draw(line)]);
  }
  return undefined;
};

interface LetterSize {
  readonly wide: number;
  readonly high: number;
  readonly draw: (line: string) => readonly string[];
}

/** Largest first; the last is flat: two dots in one character. */
const sizes = (rows: number): readonly LetterSize[] => {
  const scales = Array.from({ length: Math.max(1, Math.floor(rows / LETTER_HIGH)) }, (_, less) => less + 1).reverse();
  return [
    ...scales.map((scale) => ({
      wide: scale,
      high: LETTER_HIGH * scale,
      draw: (line: string) => dots(line).flatMap((row) => Array.from({ length: scale }, () => blocks(row, scale))),
    })),
    { wide: 1, high: 3, draw: (line) => halves(dots(line)) },
  ];
};

/** Lines of at most this many letters; undefined when one word is longer. */
const broken = (words: string, most: number): readonly string[] | undefined => {
  const lines: string[] = [];
  for (const word of words.split(" ")) {
    if (word.length > most) return undefined;
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
};

const dots = (line: string): readonly string[] =>
  Array.from({ length: LETTER_HIGH }, (_, row) =>
    [...line].map((letter) => (DOTS[letter] ?? DOTS["?"] ?? "").split(" ")[row] ?? "").join("."),
  );

const blocks = (row: string, scale: number): string =>
  [...row]
    .map((dot) => (dot === "#" ? "█" : " ").repeat(scale))
    .join("")
    .trimEnd();

const halves = (rows: readonly string[]): readonly string[] =>
  [0, 2, 4].map((row) =>
    [...(rows[row] ?? "")]
      .map((upper, column) => half(upper === "#", rows[row + 1]?.[column] === "#"))
      .join("")
      .trimEnd(),
  );

const half = (upper: boolean, lower: boolean): string => (upper ? (lower ? "█" : "▀") : lower ? "▄" : " ");
