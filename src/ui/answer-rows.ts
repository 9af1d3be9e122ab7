import { canTakeBack } from "../run/session/taking-back.ts";
import { keyWords } from "./key-plan.ts";
import { asRow, type Row, said } from "./rows.ts";
import type { Sight } from "./sight.ts";

/** How the answer before is taken back, behind another sentence; nothing where that cannot be. */
export const undoWords = ({ plan, session }: Pick<Sight, "plan" | "session">): string =>
  canTakeBack(session) ? ` The answer before was wrong: ${keyWords(plan.letters.undo)}.` : "";

/** What stands in the place of answers that are not taken yet. */
export const WAITING = "...";

/** How to answer, shown from the moment on in which a key answers; until then the rows are kept free. */
export const answerRows = ({ listening }: Pick<Sight, "listening">, rows: readonly Row[]): readonly Row[] =>
  listening ? rows : rows.map((row, at) => ({ ...row, text: at === 0 ? asRow(WAITING).text : "" }));

/** Why the last key did not answer. */
export const refusedRows = ({ refused, size }: Pick<Sight, "refused" | "size">): readonly Row[] =>
  said(refused === undefined ? "" : REFUSED[refused], size.columns, "alert");

const REFUSED = {
  "too soon": "! That key came before this page could be read. Press it again.",
  "still held": "! That key was still held down. Let go, wait a second, then press it.",
} as const;
