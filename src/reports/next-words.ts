import { CONCLUSIVE } from "../diagnosis/model/certain.ts";
import { CIRCUMSTANCES, type CircumstanceId } from "../diagnosis/model/circumstances.ts";
import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import type { Advice } from "../diagnosis/model/next.ts";
import type { Offer } from "../diagnosis/model/offer.ts";
import { type PlayedTest, testedIn } from "../diagnosis/model/probe.ts";
import type { TryOut } from "../diagnosis/model/try-outs.ts";
import { type FollowUp, followUpWords } from "../diagnosis/places/follow-up.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { type CoverId, coverWords } from "../domain/trade/hold-points.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import type { Reason } from "../run/release/rules.ts";
import type { Offered } from "../run/session/offered.ts";

/** One thing to do next in words, with its time and why. */
export const offerInWords = (offer: Offer | TryOut): string => {
  switch (offer.kind) {
    case "driven":
      return `${driveInWords(offer)}, ${timeInWords(offer.seconds)}; ${offer.reason}`;
    case "try-out":
      return `${tryOutInWords(offer)}; ${offer.reason}`;
    case "inspection":
      return `inspection, ${placeInWords(offer.cover)}: ${inspection(offer.inspection).look}, ${offer.minutes < 1 ? "under a minute" : `${Math.round(offer.minutes)} min`} [${offer.inspection}]; ${offer.reason}`;
    default:
      return offer satisfies never;
  }
};

/** "move frost while the head is shaken, 8 s"; of several tests in one go how long it takes with all questions. */
const tryOutInWords = ({ tests, minutes }: TryOut): string => {
  const [only, another] = tests;
  if (only && !another) return `${driveInWords(only)}, ${timeInWords(only.seconds)}`;
  const hot = tests.find(({ under }) => under === "hot");
  const others = tests.filter((one) => one !== hot);
  const words = hot
    ? `light on for ${warmingMinutes(tests)} min, meanwhile ${listed(
        others.map(({ under }) => MEANWHILE[under]),
        "and",
      )}; then ${hotInWords(hot)}`
    : listed(others.map(driveInWords), "then");
  return `${words}, ${Math.round(minutes)} min`;
};

/** "move cyan: full sweep", "light on for 6 min, then move cyan, hot". */
const driveInWords = (drive: PlayedTest): string => {
  const { under, function: id, routine } = drive;
  const tested = listed(testedIn(drive).map(functionWords), "and");
  switch (under) {
    case "as usual":
      return `move ${id ? functionWords(id) : "the whole fixture"}: ${ROUTINES[routine].words}`;
    case "hot":
      return `light on for ${warmingMinutes([drive])} min, then ${hotInWords(drive)}`;
    case "tipped":
      return `move ${tested} with the head leaning to both sides`;
    case "shaken":
      return tested === "" ? "shake the head and watch its light" : `move ${tested} while the head is shaken`;
    case "fast":
      return "move pan and tilt together at full speed";
    case "together":
      return "move everything at once";
    default:
      return under satisfies never;
  }
};

/** What is watched while it warms up; said in full where it is offered by itself. */
const MEANWHILE: Readonly<Record<PlayedTest["under"], string>> = {
  "as usual": "as usual",
  hot: "hot",
  tipped: "leaning to both sides",
  shaken: "shaken",
  fast: "at full speed",
  together: "all at once",
};

/** The light itself is not moved. */
const hotInWords = (drive: PlayedTest): string => {
  const moved = listed(
    testedIn(drive)
      .filter((id) => id !== "Dimmer")
      .map(functionWords),
    "and",
  );
  const watched = drive.function === undefined ? ["watch the light"] : [];
  return `${[...(moved === "" ? [] : [`move ${moved}`]), ...watched].join(" and ")}, hot`;
};

/** How long the light is on before anything is looked at hot: what is watched meanwhile counts, not where the beam is shut. */
const warmingMinutes = (tests: readonly PlayedTest[]): number => {
  const seconds = tests.map(({ under, seconds: all, steps }) =>
    under === "fast"
      ? 0
      : under === "hot"
        ? (steps.find(({ routine }) => routine === "soak")?.options.seconds ?? 0)
        : all,
  );
  return Math.round(seconds.reduce((sum, one) => sum + one, 0) / 60);
};

const timeInWords = (seconds: number): string =>
  seconds < 100 ? `${Math.round(seconds)} s` : `${Math.round(seconds / 60)} min`;

/** What a check in which nothing was found could not show, as a sentence; empty when it tried everything. */
export const untriedInWords = (untried: readonly CircumstanceId[]): string =>
  untried.length === 0
    ? ""
    : `This check did not show the fixture ${listed(
        untried.map((id) => CIRCUMSTANCES[id]),
        "or",
      )}.`;

const listed = (words: readonly string[], last: "and" | "or" | "then"): string =>
  words.length < 2
    ? words.join("")
    : `${words.slice(0, -1).join(", ")}${last === "then" ? "," : ""} ${last} ${words.at(-1)}`;

/**
 * Anything that can be offered in words, also a test that settles where it happens: "pan: sweep short of
 * both ends, 38 s; what still happens ...".
 */
export const offeredInWords = (offered: Offered): string => {
  if (offered.kind === "own-test")
    return `the fixture's own test ${offered.number}, "${offered.words}", 2 min at most; it moves by its own program and says itself what it finds`;
  return offered.kind === "follow-up"
    ? `move ${functionWords(offered.function)}: ${followUpInWords(offered.test)}`
    : offerInWords(offered);
};

/** A test that settles where it happens, in words, with its seconds and what it tells. */
export const followUpInWords = (test: FollowUp): string =>
  `${followUpWords(test)}, ${Math.round(test.seconds)} s; ${test.tells}`;

/** Behind a cover only with the power off. */
const placeInWords = (cover: CoverId): string =>
  cover === "outside" || cover === "panel" ? coverWords(cover) : `power off and locked off, ${coverWords(cover)}`;

/** Why nothing is offered, in words. */
export const settledInWords = (advice: Exclude<Advice, { kind: "offers" }>): string => {
  if (advice.kind === "nothing-worth-asking") return "No other test or inspection would tell more.";
  if (advice.kind === "nothing-found") return `Nothing speaks for a fault. ${untriedInWords(advice.untried)}`.trim();
  return `Conclusive, and wrong about once in ${Math.round(1 / (1 - CONCLUSIVE))} times: ${[advice.on, ...advice.also].map((id) => knownFault(id).title).join("; and ")}.`;
};

/** What to do next, a line each; or why nothing is offered. */
export const adviceInWords = (advice: Advice): readonly string[] =>
  advice.kind === "offers"
    ? [...advice.offers.map(offerInWords), ...(advice.offers.some(({ kind }) => kind === "driven") ? [] : [NO_TEST])]
    : [settledInWords(advice), ...(advice.kind === "nothing-found" ? advice.offers.map(offerInWords) : [])];

/** Why no movement is among what is offered. */
const NO_TEST = "No further movement is offered: an inspection tells more in the same time.";

/** The one command that comes next for a fixture that is not released; undefined where nothing blocks it. */
export const nextCommand = (serial: string, reasons: readonly Reason[]): string | undefined => {
  const has = (rule: Reason["rule"]) => reasons.some((reason) => reason.rule === rule);
  const name = asArgument(serial);
  if (reasons.length === 0) return undefined;
  if (has("named")) return "limber run check-in --serial NUMBER";
  if (has("danger") || has("repaired")) return `limber repaired ${name} FAULT`;
  if (has("over")) return "limber resume";
  if (has("held-back")) return `limber lift ${name} --why WORDS`;
  return `limber finish ${name}`;
};

/** What the next command does for a fixture that is not released, in words; "" where nothing blocks it. */
export const nextInWords = (serial: string, reasons: readonly Reason[]): string => {
  const command = nextCommand(serial, reasons);
  if (command === undefined) return "";
  if (command.startsWith("limber finish"))
    return `${command} plays, asks and measures what is still to do; then it asks for the signature.`;
  if (command.startsWith("limber repaired")) return `Repair it, record that with "${command}", then limber finish.`;
  if (command === "limber resume") return '"limber resume" continues the open run; then limber finish.';
  if (command.startsWith("limber lift")) return `Whoever lifts it says why: "${command}"; then limber finish.`;
  return `Without a serial number nobody can tell it from others: "${command}".`;
};

/** A serial number as a shell takes it. */
const asArgument = (serial: string): string =>
  /^[\w.@%+=:,/-]+$/.test(serial) ? serial : `'${safeText(serial).replaceAll("'", `'\\''`)}'`;
