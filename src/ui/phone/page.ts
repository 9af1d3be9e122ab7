import { safeText } from "../../domain/problem/terminal.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { PhonePage, PhoneStrip } from "../../run/phone/message.ts";
import type { Stage } from "../../run/session/session.ts";
import { headline, titleIn, whereIn } from "../headline.ts";
import { troubleIn } from "../page-view.ts";
import { type AloneSight, aloneIn, type Sight, stageIn, type TogetherStage } from "../sight.ts";
import { markOf, stripsFor } from "../travel-rows.ts";
import { ABOUT_LINE, type Choice, capital } from "../view.ts";
import { linesOf, linesOfAll } from "./lines.ts";
import { fieldsOf, guardedWords } from "./offers.ts";
import type { PhoneBody } from "./pages.ts";

/** All that the page on a phone shows, of one fixture or of several; `choices` is what can be touched. */
export const phonePage = (sight: Sight, choices: readonly Choice[]): PhoneBody => {
  const { batch } = sight;
  const alone = aloneIn(sight);
  const stage = stageIn(batch);
  const trouble = troubleIn(sight);
  return {
    moving: MOVING.includes(stage.kind) ? "moves" : "stands",
    where: `${batch.plan.opening.simulated ? "SIMULATED " : ""}${titleIn(batch)}`,
    step: whereIn(batch),
    headline: capital(headline(sight).usual),
    lines: [
      ...(trouble === "" || ABOUT_LINE.includes(stage.kind) ? [] : [{ text: trouble, look: "alert" } as const]),
      ...(alone ? linesOf(alone) : linesOfAll(sight)),
    ],
    strips: alone ? stripsOf(alone) : [],
    ...(alone ? buttonsOf(alone.session.stage) : buttonsOfAll(sight)),
    guarded: safeText(guardedWords(batch)),
    answers: choices.map(({ words }) => ({ words: capital(safeText(words)), look: "plain" })),
    fields: fieldsOf(sight),
  };
};

const MOVING: readonly (Stage | TogetherStage)["kind"][] = ["moving", "slow-start", "stirring", "at-spot"];

/** Words on the three largest buttons; empty where there is nothing to press for. */
const buttonsOf = (stage: Stage): Pick<PhonePage, "press" | "again" | "stop"> => {
  switch (stage.kind) {
    case "moving":
      return { press: pressWords(stage.step.routine), again: "Once more", stop: "Stop it all" };
    case "at-spot":
      return { press: "", again: "", stop: "Stand still" };
    case "other-interface":
      return { press: "", again: "The right one is plugged in", stop: "Stop it all" };
    case "opening":
    case "finished":
      return { press: "", again: "", stop: "" };
    default:
      return { press: "", again: "", stop: "Stop it all" };
  }
};

/** A soak is not watched, and where it is timed a press says that it has arrived. */
const pressWords = (routine: RoutineId): string => {
  if (routine === "soak") return "";
  return routine === "stopwatch" ? "It is there" : "There: something is wrong";
};

const buttonsOfAll = ({ batch: { stage, plan } }: Sight): Pick<PhonePage, "press" | "again" | "stop"> => {
  const stop = stage.kind === "finished" || stage.kind === "opening" ? "" : "Stop it all";
  const again = AGAIN[stage.kind] ?? "";
  return { press: stage.kind === "moving" && plan.asks === "who-differs" ? "There: one of them" : "", again, stop };
};

const AGAIN: Partial<Record<TogetherStage["kind"] | "alone", string>> = {
  moving: "Once more",
  "line-lost": "Continue without them",
  "other-interface": "The right one is plugged in",
};

const MOST_STRIPS = 4;
const stripsOf = (sight: AloneSight): readonly PhoneStrip[] => {
  const { stage } = sight.session;
  if (stage.kind !== "moving") return [];
  return stripsFor(sight, stage)
    .slice(0, MOST_STRIPS)
    .map((id) => {
      const { label, told, seen } = markOf(sight, stage, id);
      return { label, commanded: told.share, actual: seen?.share, words: seen?.words ?? told.words };
    });
};
