import { safeText } from "../../domain/problem/terminal.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { PhonePage, PhoneStrip } from "../../run/phone/message.ts";
import type { Session } from "../../run/session/session.ts";
import type { Choice } from "../choices.ts";
import { headline } from "../headline.ts";
import { markOf, stripsFor } from "../moving-rows.ts";
import { stepInView } from "../page-view.ts";
import type { Sight } from "../sight.ts";
import { ABOUT_LINE, capital } from "../view.ts";
import { linesOf } from "./lines.ts";
import { fieldsOf, guardedWords } from "./offers.ts";
import type { PhoneBody } from "./pages.ts";

/** All that the page shows of one fixture. */
export const onePage = (sight: Sight, choices: readonly Choice[]): PhoneBody => {
  const { session } = sight;
  const { stage, job, trouble } = session;
  return {
    moving: ["moving", "slow-start", "stirring", "at-spot"].includes(stage.kind) ? "moves" : "stands",
    where: `${job.opening.simulated ? "SIMULATED " : ""}${safeText(job.opening.fixture.serial)}, ${safeText(job.timeline.profile.title)}`,
    step: stepInView(stage, job.timeline.steps.length),
    headline: capital(headline(sight).usual),
    lines: [
      ...(trouble && !ABOUT_LINE.includes(stage.kind) ? [{ text: safeText(trouble), look: "alert" } as const] : []),
      ...linesOf(sight),
    ],
    strips: stage.kind === "moving" ? stripsOf(sight) : [],
    ...buttonsOf(stage),
    guarded: safeText(guardedWords(session)),
    answers: choices.map(({ words }) => ({ words: capital(safeText(words)), look: "plain" })),
    fields: fieldsOf(session),
  };
};

/** Words on the three largest buttons; empty where there is nothing to press for. */
const buttonsOf = (stage: Session["stage"]): Pick<PhonePage, "press" | "again" | "stop"> => {
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

const MOST_STRIPS = 4;
const stripsOf = (sight: Sight): readonly PhoneStrip[] => {
  const { stage } = sight.session;
  if (stage.kind !== "moving") return [];
  return stripsFor(sight, stage)
    .slice(0, MOST_STRIPS)
    .map((id) => {
      const { label, told, seen } = markOf(sight, stage, id);
      return { label, commanded: told.share, actual: seen?.share, words: seen?.words ?? told.words };
    });
};
