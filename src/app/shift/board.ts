import { boardLines } from "../../reports/board.ts";
import { type Board, type BoardOf, boardOf } from "../../run/memory/board.ts";
import type { Journal } from "../../run/ports.ts";
import { deliver } from "../common/deliver.ts";
import type { ExitCode } from "../common/exit.ts";
import { withJournal } from "../journal/with-journal.ts";
import { rememberedShift } from "./settings.ts";

/** The forms a board comes in. */
type BoardForm = "text" | "json" | "html";

export interface BoardOptions {
  readonly journal: string;
  /** A hire by its name; undefined: that of the shift, else today. */
  readonly hire: string | undefined;
  readonly simulated: boolean;
  readonly as: BoardForm;
  readonly out: string | undefined;
  /** Drawn on the terminal and kept up to date until somebody leaves it. */
  readonly shown: "once" | "on the screen";
}

/** What is done, what waits and what is to come, of today or of a hire. */
export const showBoard = ({ journal: file, as, out, shown, ...which }: BoardOptions): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    const board = () => boardIn(journal, file, which);
    if (shown === "once") return deliver(await inForm(await board(), as), out);
    const { boardScreen } = await import("../../ui/board-screen.ts");
    return await boardScreen(async (columns) => boardLines(await board(), columns));
  });

/** The board as this journal has it now. */
export const boardIn = async (
  journal: Journal,
  file: string,
  { hire, simulated }: Pick<BoardOptions, "hire" | "simulated">,
): Promise<Board> => {
  const shift = rememberedShift(file);
  const named = hire ?? shift.hire;
  const of: BoardOf =
    named === "" ? { kind: "day", day: new Date().toISOString().slice(0, 10) } : { kind: "hire", hire: named };
  // In this order: a run that is begun in between must not be of a fixture that stands nowhere.
  const runs = await journal.briefs({ kind: "all" });
  const standings = await journal.standings({ kind: "all" });
  return boardOf(of, { runs, standings, simulated, expected: named === shift.hire ? shift.expected : [] });
};

const inForm = async (board: Board, form: BoardForm): Promise<string> => {
  switch (form) {
    case "text":
      return boardLines(board, process.stdout.columns || 100).join("\n");
    case "json":
      return JSON.stringify(board, undefined, 2);
    case "html":
      return (await import("../../reports/page/board-page.ts")).boardPage(board);
    default:
      return form satisfies never;
  }
};
