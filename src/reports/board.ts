import { h } from "hastscript";
import { safeText } from "../domain/problem/shown-text.ts";
import { ASIDE_WORDS } from "../run/events/by-hand.ts";
import { BOARD_STATES, type Board, type BoardRow, type BoardState } from "../run/memory/board.ts";
import { documentOf, section, table } from "./page/document.ts";
import { cut, padded, widthOf } from "./wrap.ts";

/** What a fixture on the board is said to be. */
export const BOARD_WORDS: Readonly<Record<BoardState, string>> = {
  "at-work": "in work",
  "needs-work": "needs work",
  "not-released": "not released yet",
  "to-sign": "to be signed",
  ...ASIDE_WORDS,
  "not-seen": "not yet seen",
  released: "released",
};

/** The board as lines of at most `columns`: what it is of, how many are where, a line for each fixture, what is left. */
export const boardLines = (board: Board, columns: number): readonly string[] => [
  boardTitle(board),
  ...(board.simulated ? ["SIMULATED: simulated fixtures, not real ones."] : []),
  boardCounts(board),
  boardLeft(board),
  "",
  ...boardRows(board, columns),
];

/** What the board is of: a hire by its name, or a day. */
export const boardTitle = ({ of }: Board): string =>
  of.kind === "hire" ? `Board: ${safeText(of.hire)}` : `Board: ${of.day}`;

/** How many fixtures are in which state: "12 fixtures: 9 released, 2 need work, 1 waiting for a part". */
export const boardCounts = ({ rows, counts }: Board): string => {
  const parts = BOARD_STATES.filter((state) => counts[state] > 0).map(
    (state) => `${counts[state]} ${state === "needs-work" && counts[state] > 1 ? "need work" : BOARD_WORDS[state]}`,
  );
  const all = `${rows.length} ${rows.length === 1 ? "fixture" : "fixtures"}`;
  return parts.length === 0 ? "No fixture yet." : `${all}: ${parts.join(", ")}.`;
};

/** How much work is left, in minutes, and for how many fixtures nobody can say. */
export const boardLeft = ({ left: { minutes, unknown } }: Board): string => {
  if (minutes === 0 && unknown === 0) return "No work left.";
  const figure = `About ${Math.max(1, Math.round(minutes))} min of work left, by this journal's own times`;
  if (unknown === 0) return `${figure}.`;
  const without = `${unknown} without a figure: nothing like it was finished before`;
  return minutes === 0 ? `Work left: ${without}.` : `${figure}; ${without}.`;
};

const boardRows = ({ rows }: Board, columns: number): readonly string[] => {
  const serial = Math.min(20, Math.max(0, ...rows.map((row) => widthOf(safeText(row.serial)))));
  const state = Math.max(0, ...rows.map((row) => widthOf(BOARD_WORDS[row.state])));
  return rows.map((row) =>
    cut(
      `${padded(cut(safeText(row.serial), serial), serial)}  ${padded(BOARD_WORDS[row.state], state)}  ${detailOf(row)}`.trimEnd(),
      columns,
    ),
  );
};

const detailOf = ({ person, at, because, left }: BoardRow): string =>
  [
    safeText(person),
    at === "" ? "" : at.slice(11, 16),
    left === undefined || left < 0.5 ? "" : `${Math.round(left)} min`,
    safeText(because),
  ]
    .filter((part) => part !== "")
    .join(", ");

/** The board as a page to open on a screen in the shop, or to send. */
export const boardPage = (board: Board): string =>
  documentOf(boardTitle(board), [
    h("h1", boardTitle(board)),
    h("p", { class: "state" }, boardCounts(board)),
    h("p", boardLeft(board)),
    ...(board.simulated ? [h("p", { class: "notice" }, "SIMULATED: simulated fixtures, not real ones.")] : []),
    ...section(
      "Fixtures",
      table(
        "Work under way first; times are UTC",
        ["Serial", "State", "Who", "Since", "Why", "Kind"],
        board.rows.map(({ serial, state, person, at, because, profile }) => [
          safeText(serial),
          BOARD_WORDS[state],
          safeText(person),
          at.slice(0, 16).replace("T", " "),
          safeText(because),
          safeText(profile),
        ]),
      ),
    ),
  ]);
