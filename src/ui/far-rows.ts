import { safeText } from "../domain/problem/terminal.ts";
import { spanInWords } from "../reports/span.ts";

import { keysRows, markOf, spectacleRows, stripsFor, whatMoves } from "./moving-rows.ts";
import type { Moving, Sight } from "./sight.ts";

import { leftOfStep } from "./time-words.ts";
import { atMost, BLANK, capital, type Line, said } from "./view.ts";

const TIME_HIGH = 5;

/** The page while a step plays, for somebody three metres away: what can be read from there, and no more. */
export const farRows = (sight: Sight, stage: Moving): readonly Line[] => {
  const { session, frame } = sight;
  const [id] = stripsFor(sight, stage);
  return [
    ...atMost(2, said(`${capital(whatMoves(session, stage))}.`, "strong")),
    BLANK,
    ...(id ? [{ kind: "tall-strip", mark: markOf(sight, stage, id) } as const] : []),
    ...said(`Watch for: ${safeText(stage.step.watch)}.`, "strong"),
    ...spectacleRows(sight, stage.step.functions).map((row) => ({ ...row, keep: 1 }) as const),
    BLANK,
    { kind: "letters", text: spanInWords(leftOfStep(stage.step, frame)), high: TIME_HIGH, keep: 1 },
    BLANK,
    ...keysRows(sight),
  ];
};
