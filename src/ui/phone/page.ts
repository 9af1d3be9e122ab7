import { isolated, safeText } from "../../domain/problem/shown-text.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Milliseconds } from "../../domain/units.ts";
import type { PhonePage, PhoneSaid, PhoneStrip } from "../../run/phone/message.ts";
import type { Stage } from "../../run/session/session.ts";
import { headline, titleIn, whereIn } from "../headline.ts";
import { troubleIn } from "../page-view.ts";
import { type AloneSight, aloneIn, type Sight, stageIn, type TogetherStage } from "../sight.ts";
import { markOf, stripsFor } from "../travel-rows.ts";
import { ABOUT_LINE, type Choice, capital } from "../view.ts";
import { linesOf, linesOfAll } from "./lines.ts";
import { fieldsOf, guardedWords } from "./offers.ts";

/** What a page says, before it is counted. */
export type PhoneBody = Omit<PhonePage, "drawn">;

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

/**
 * The page of a phone, on which whatever is written from right to left keeps to itself. What a
 * person has typed so far stays as it is.
 */
export const directedPage = (page: PhonePage): PhonePage => ({
  ...page,
  where: isolated(page.where),
  step: isolated(page.step),
  headline: isolated(page.headline),
  lines: page.lines.map((line) => ({ ...line, text: isolated(line.text) })),
  strips: page.strips.map((strip) => ({ ...strip, label: isolated(strip.label), words: isolated(strip.words) })),
  guarded: isolated(page.guarded),
  answers: page.answers.map((answer) => ({ ...answer, words: isolated(answer.words) })),
  fields: page.fields.map((field) => ({ ...field, words: isolated(field.words) })),
});

export type Touched = Extract<PhoneSaid, { kind: "answer" | "guarded" }>;

interface ShownPage<Moment> {
  readonly number: number;
  readonly since: Milliseconds;
  readonly moment: Moment;
  readonly offers: string;
}

/** How many pages are remembered: an answer that is on its way may be to one before. */
const MOST = 60;

/** Pages by their numbers: another number whenever what can be touched is not the same. */
export class PhonePages<Moment> {
  private shown: ShownPage<Moment>[] = [];
  private count = 0;

  /**
   * The page as it is sent, with the number of its drawing, which stays the same while the page offers the same.
   * `now` is in milliseconds by our clock.
   */
  put(moment: Moment, body: PhoneBody, question: string | undefined, now: Milliseconds): PhonePage {
    const { answers, fields, guarded, press, again, stop, headline } = body;
    const offers = JSON.stringify([question, answers, fields, guarded, press, again, stop, headline]);
    const last = this.shown.at(-1);
    if (last?.offers === offers) {
      // The state behind the same page may be a newer one: answers go to what they name in any case.
      this.shown[this.shown.length - 1] = { ...last, moment };
      return { ...body, drawn: last.number };
    }
    this.count += 1;
    this.shown = [...this.shown, { number: this.count, since: now, moment, offers }].slice(-MOST);
    return { ...body, drawn: this.count };
  }

  /** The drawing with this number, from 1; undefined for one that is too long ago. `number` counts the drawings. */
  at(number: number): ShownPage<Moment> | undefined {
    return this.shown.find((one) => one.number === number);
  }
}
