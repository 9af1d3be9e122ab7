import { safeText } from "../domain/problem/terminal.ts";
import { spanInWords } from "../reports/span.ts";
import { largeLetters } from "./large.ts";
import { keysRows, markOf, spectacleRows, stripsFor, whatMoves } from "./moving-rows.ts";
import { asRow, BLANK, capital, MARGIN, type Row, said } from "./rows.ts";
import type { Moving, Sight } from "./sight.ts";
import { tallStrip } from "./strip.ts";
import { leftOfStep } from "./time-words.ts";

const TIME_HIGH = 5;

/** While a step plays, for somebody three metres away: what can be read from there, and no more. */
export const farRows = (sight: Sight, stage: Moving): readonly Row[] => {
  const { size, session, frame } = sight;
  const [id] = stripsFor(sight, stage);
  const strip = id ? tallStrip(markOf(sight, stage, id), size.columns - 2 * MARGIN - 2) : [];
  const time = largeLetters(spanInWords(leftOfStep(stage.step, frame)), size.columns - 2 * MARGIN, TIME_HIGH) ?? [];
  return [
    ...said(`${capital(whatMoves(session, stage))}.`, size.columns, "strong").slice(0, 2),
    BLANK,
    ...strip.map((text) => asRow(text)),
    ...said(`Watch for: ${safeText(stage.step.watch)}.`, size.columns, "strong"),
    ...spectacleRows(sight, stage.step.functions).map((row) => ({ ...row, keep: 1 }) as const),
    BLANK,
    ...time.map((text) => asRow(text, "strong", 1)),
    BLANK,
    ...keysRows(sight),
  ];
};
