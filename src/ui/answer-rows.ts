import { canTakeBack } from "../run/session/taking-back.ts";
import { keyWords } from "./key-plan.ts";
import type { Sight } from "./sight.ts";
import { type Line, said } from "./view.ts";

/** How the answer before is undone, as a sentence behind another one; "" where it cannot be undone. */
export const undoWords = ({ plan, session }: Pick<Sight, "plan" | "session">): string =>
  canTakeBack(session) ? ` Undo the answer before: ${keyWords(plan.letters.undo)}.` : "";

/** Says why the last key did not answer; nothing where it did. */
export const refusedLines = ({ refused }: Pick<Sight, "refused">): readonly Line[] =>
  said(refused === undefined ? "" : REFUSED[refused], "alert");

const REFUSED = {
  "too soon": "! That key came before this page could be read. Press it again.",
  "still held": "! That key was still held down. Let go, wait a second, then press it.",
} as const;
