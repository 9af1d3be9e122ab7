import { h } from "hastscript";
import { safeText } from "../../domain/problem/terminal.ts";
import type { Board } from "../../run/memory/board.ts";
import { BOARD_WORDS, boardCounts, boardLeft, boardTitle } from "../board.ts";
import { documentOf, section, table } from "./document.ts";

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
