import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { holdPointWords } from "../domain/trade/hold-points.ts";
import { sourceCaution } from "../domain/trade/mechanisms.ts";
import { faultyInWords, nothingWrong, suspectsInWords, unnamedInWords } from "../reports/rack-sheet.ts";
import { spanInWords } from "../reports/status-words.ts";
import { memberAt, type RackStageOf } from "../run/batch/batch.ts";
import { startsIn, turnOf } from "../run/batch/flow.ts";
import { type StateAtEnd, stateAtEnd, watchedIn } from "../run/batch/members.ts";
import { unnamedPresses } from "../run/batch/which.ts";
import type { RackEntry } from "./desk.ts";
import { anyOf, type KeyPlan, keyWords } from "./key-plan.ts";
import { watchedWords } from "./rack-keys.ts";
import type { RackSight } from "./sight.ts";
import { capital, type Line, type RackPageView, said, toAnswer } from "./view.ts";
import { strangerAnswer, strangerFacts } from "./waiting-rows.ts";

/**
 * The page of a hold point for a whole group. The maker's manual and local rules go before
 * these words; common practice, no source.
 */
export const holdingTold = (sight: RackSight, stage: RackStageOf<"holding">): RackPageView =>
  stage.point === "mains-on" ? mainsTold(sight, stage) : clearTold(sight, stage);

const clearTold = (sight: RackSight, { next }: RackStageOf<"holding">): RackPageView => {
  const { batch, plan, desk } = sight;
  return {
    headline: "before anything moves",
    far: "Clear?",
    where: "",
    above: [
      ...said(`${capital(safeText(turnOf(batch, next).name))}.`),
      ...said(`${capital(holdPointWords("area-clear"))}; that of all groups.`),
      ...said("Transport locks off, plugs and cords whole, rack and fixtures stand firm, safety bonds on."),
      ...said(
        "Nobody looks into a lens; anybody whom flashing light could harm has been told. Stopping here is no emergency stop: the mains isolator is.",
      ),
      ...sourcesIn(batch, next).flatMap((words) => said(words)),
      ...said(unknownWords(batch, next)),
    ],
    below: [
      ...toAnswer(
        said(
          `${keyWords(plan.own["before-moving"])}: all of this is confirmed. If not: ${anyOf(plan.stop)} stops it all.`,
          "strong",
        ),
      ),
      ...(desk.entry ? entryRows(desk.entry) : personRows(batch.person, plan)),
    ],
  };
};

/** Light that is worse for people than bright light, each kind once. */
const sourcesIn = (batch: RackSight["batch"], { members }: RackStageOf<"holding">["next"]): readonly string[] => {
  const kinds = members.map((index) => memberAt(batch, index).spot.profile.lamp.kind);
  return [...new Set(kinds)].filter((kind) => kind === "laser" || kind === "ultraviolet").map(sourceCaution);
};

/** Nothing was sent to some of them in this run. */
const unknownWords = (batch: RackSight["batch"], { members }: RackStageOf<"holding">["next"]): string =>
  members.some((index) => memberAt(batch, index).session.commanded === undefined)
    ? "Where they stand is not known: each may swing once, at any speed, when the signal begins."
    : "";

const mainsTold = (sight: RackSight, { next }: RackStageOf<"holding">): RackPageView => {
  const { batch, plan } = sight;
  const wait = startsIn(batch, next);
  const power = Math.max(...next.members.map((index) => memberAt(batch, index).spot.profile.powerUp));
  const serials = next.members.map((index) => safeText(memberAt(batch, index).serial)).join(", ");
  return {
    headline: "switch these on",
    far: "Mains on",
    where: safeText(turnOf(batch, next).name),
    above: [
      ...said(`${serials}; the others stay as they are.`, "strong"),
      ...said(
        `Stand clear: they move by themselves as soon as they have power, about ${spanInWords(power)}, then the light comes.`,
      ),
      ...said(wait > 0 ? `Wait ${spanInWords(wait)}: the circuit still starts the ones before.` : "", "alert"),
    ],
    below: [
      ...toAnswer(said(`${keyWords(plan.own["mains-on"])}: press it at the moment the mains goes on.`, "strong")),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};

const personRows = (person: string, plan: KeyPlan): readonly Line[] =>
  said(
    person === ""
      ? `Your initials, for the record: ${keyWords(plan.letters.person)}.`
      : `Watching: ${safeText(person)}. Somebody else: ${keyWords(plan.letters.person)}.`,
    "faint",
    1,
  );

const ENTRY = {
  serial: "Serial number of the fixture that stands there now",
  person: "Initials of who watches",
} as const;

const entryRows = ({ what, text }: RackEntry): readonly Line[] =>
  said(`${ENTRY[what]}: ${safeText(text)}_  (ENTER: save, ESCAPE: cancel)`, "strong");

/** The page after a pass: silence counts only for what somebody says was watched. */
export const confirmingTold = (sight: RackSight, { members }: RackStageOf<"confirming">): RackPageView => {
  const { batch, plan } = sight;
  const silent = members.map((index) => safeText(memberAt(batch, index).serial)).join(", ");
  const steps = Math.max(...members.map((index) => memberAt(batch, index).session.group.length));
  return {
    headline: "did you watch these?",
    far: "Watched?",
    where: "",
    above: [
      ...said(`${silent}: no press in ${steps === 1 ? "one step" : `most or all of ${steps} steps`}.`),
      ...said("What ran for more than a minute without any key does not count as watched."),
    ],
    below: [
      ...toAnswer(said(`ENTER: ${watchedWords(batch, sight.desk)}.`, "strong")),
      ...said(
        `All but some: the letters of those you did not watch. Nobody was there: ${anyOf(plan.again)}. Pause: ${keyWords(plan.letters.away)}. Stop it all: ${anyOf(plan.stop)}.`,
      ),
    ],
  };
};

/** The page of a break: everything dark and still. */
export const pausedTold = (sight: RackSight): RackPageView => {
  const { batch, plan, desk } = sight;
  const { picked, entry } = desk;
  const name = picked === undefined ? "" : safeText(placeInWords(memberAt(batch, picked).place));
  const choice = [
    ...said(`${capital(name)}, ${picked === undefined ? "" : safeText(memberAt(batch, picked).serial)}:`, "strong"),
    ...said(
      `${anyOf(plan.press)}: it is removed. ${anyOf(plan.again)}: it is replaced by another of its kind and mode, at its address. Any other key: cancel.`,
    ),
  ];
  const usual = [
    ...toAnswer(said(`${keyWords(plan.own["go-on"])}: continue. You confirm the area first.`, "strong")),
    ...said(`Remove or replace a fixture: press its letter. Stop it all: ${anyOf(plan.stop)}.`),
  ];
  return {
    headline: "pause",
    far: "Pause",
    where: "",
    above: said("Dark and still. Your answers are saved. Switch its mains off before you unplug a fixture."),
    below: entry ? entryRows(entry) : picked === undefined ? usual : choice,
  };
};

/** The page of a lost DMX line, and of one that is back. */
export const lossTold = (sight: RackSight, stage: RackStageOf<"line-lost">): RackPageView => {
  const { batch, plan } = sight;
  const { universe, words, back } = stage;
  const cutOff = batch.members.filter(({ spot, state }) => spot.universe === universe && state === "here").length;
  return {
    headline: back ? "the DMX line is back" : "a DMX line is lost",
    far: back ? "Line back" : "Line lost",
    where: `universe ${universe}`,
    above: [
      ...said(back ? `Why it was lost: ${safeText(words)}.` : `! ${safeText(words)}`, back ? "plain" : "alert"),
      ...said(
        back
          ? "A slow movement comes first. Then the step starts again."
          : `No data reaches ${cutOff} fixtures now. They may hold their last state, lit or dark. Limber tries the line again every second.`,
      ),
    ],
    below: [
      ...toAnswer(
        said(back ? `${keyWords(plan.own["line-back"])}: I am here, the area is clear, continue.` : "", "strong"),
      ),
      ...said(`${anyOf(plan.again)}: continue without them. Their current step counts as not watched.`),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};

/** The page of an interface that may be another than before: no frame was sent to it yet. */
export const strangerTold = (sight: RackSight, { universe, words }: RackStageOf<"other-interface">): RackPageView => {
  const { plan } = sight;
  return {
    headline: "another interface",
    far: "Interface?",
    where: `universe ${universe}`,
    above: [...said(`! ${safeText(words)}.`, "alert"), ...strangerFacts("the fixtures of this rack")],
    below: [
      ...toAnswer(said(strangerAnswer(plan), "strong")),
      ...said(`${anyOf(plan.again)}: go on without this universe.`),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};

const HOW = {
  stopped: "Stopped before the end. Your answers are saved. You can resume it.",
  failed: "The run cannot continue. What is saved stays saved.",
} as const;

/** The last page of a rack run: how it ended, and what was seen and not seen. */
export const finishedTold = ({ batch }: RackSight, { how }: RackStageOf<"finished">): RackPageView => {
  const states = batch.members.map(stateAtEnd);
  const many = (state: StateAtEnd) => states.filter((one) => one === state).length;
  const unnamed = unnamedPresses(batch);
  return {
    headline: how === "finished" ? "finished" : "stopped",
    far: how === "finished" ? "Done" : "Stopped",
    where: "",
    above: [
      ...said(how === "finished" ? finishedWords(many("not watched")) : HOW[how]),
      ...(many("fault seen") + many("suspect") + unnamed.length === 0
        ? said(nothingWrong(watchedIn(batch)), "strong")
        : []),
      ...(many("fault seen") === 0 ? [] : said(`${faultyInWords(many("fault seen"))}.`, "strong")),
      ...(many("suspect") === 0 ? [] : said(`${suspectsInWords(many("suspect"))}.`, "strong")),
      ...unnamed.flatMap((one) => said(safeText(unnamedInWords(one)), "strong")),
    ],
    below: said("All go dark and stay where they are. The list follows."),
  };
};

const finishedWords = (notWatched: number): string =>
  notWatched === 0
    ? "Every fixture has been watched."
    : `${notWatched === 1 ? "One fixture was" : `${notWatched} fixtures were`} not watched: nothing can be said of ${notWatched === 1 ? "it" : "them"}.`;
