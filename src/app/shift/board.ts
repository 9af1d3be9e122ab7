import { dirname, join } from "node:path";
import { z } from "zod";
import { readPrivate, writePrivate } from "../../io/files/outside.ts";
import { boardLines } from "../../reports/board.ts";
import { type Board, type BoardOf, boardOf } from "../../run/memory/board.ts";
import type { Journal } from "../../run/ports.ts";
import { deliver, type ExitCode } from "../common/output.ts";
import { withJournal } from "../journal/with-journal.ts";

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
    const { boardScreen } = await import("../../ui/painter.ts");
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
      return (await import("../../reports/board.ts")).boardPage(board);
    default:
      return form satisfies never;
  }
};

/** What a shift has in common from fixture to fixture, remembered beside the journal until it is said anew. */
const settings = z.strictObject({
  person: z.string(),
  bench: z.string(),
  output: z.string(),
  to: z.string().optional(),
  sequence: z.string(),
  /** What the fixtures came back from; empty when nobody said. */
  hire: z.string(),
  /** Serial numbers that belong to the hire, as far as somebody listed them. */
  expected: z.array(z.string()),
});
export type ShiftSettings = z.infer<typeof settings>;

const NEW_SHIFT: ShiftSettings = {
  person: "",
  bench: "bench",
  output: "",
  sequence: "quick",
  hire: "",
  expected: [],
};

/** The settings of the last shift with this journal; what cannot be read is as if nothing had been remembered. */
export const rememberedShift = (journal: string): ShiftSettings => {
  const text = readPrivate(placeOf(journal));
  if (text === undefined) return NEW_SHIFT;
  try {
    const read = settings.safeParse(JSON.parse(text));
    return read.success ? read.data : NEW_SHIFT;
  } catch {
    return NEW_SHIFT;
  }
};

/** Keeps the settings of a shift for the next one. Undefined when they were written; else why not, in words. */
export const rememberShift = (journal: string, shift: ShiftSettings): string | undefined =>
  writePrivate(placeOf(journal), `${JSON.stringify(shift, undefined, 2)}\n`);

const placeOf = (journal: string): string => join(dirname(journal), "shift.json");
