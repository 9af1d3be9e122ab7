import { CONCLUSIVE } from "../diagnosis/model/certain.ts";
import { CIRCUMSTANCES, type CircumstanceId } from "../diagnosis/model/circumstances.ts";
import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import type { Advice, Offer } from "../diagnosis/model/next.ts";
import { type PlayedTest, testedIn } from "../diagnosis/model/probe.ts";
import type { TryOut } from "../diagnosis/model/try-outs.ts";
import { type FollowUp, followUpWords } from "../diagnosis/places/follow-up.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { type CoverId, coverWords } from "../domain/trade/hold-points.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import type { Reason } from "../run/release/rules.ts";
import type { Offered } from "../run/session/offered.ts";

/** One thing to do next in words, with its time and why. */
export const offerInWords = (offer: Offer | TryOut): string =>
  offer.kind !== "inspection"
    ? `${driveInWords(offer)}, ${timeInWords(offer.seconds)}; ${offer.reason}`
    : `inspection, ${placeInWords(offer.cover)}: ${inspection(offer.inspection).look}, ${offer.minutes < 1 ? "under a minute" : `${Math.round(offer.minutes)} min`} [${offer.inspection}]; ${offer.reason}`;

/** "move cyan: full sweep", "keep the light on for 6 min, then move cyan, hot". */
const driveInWords = (drive: PlayedTest): string => {
  const { under, function: id, routine, steps } = drive;
  const tested = listed(testedIn(drive).map(functionWords), "and");
  switch (under) {
    case "as usual":
      return `move ${id ? functionWords(id) : "the whole fixture"}: ${ROUTINES[routine].words}`;
    case "hot":
      return `light on for ${warmingMinutes(steps)} min, then move ${id ? tested : `${movedHot(drive)} and watch the light`}, hot`;
    case "tipped":
      return `move ${tested} with the head leaning to one side, then to the other`;
    case "shaken":
      return tested === "" ? "shake the head and watch its light" : `move ${tested} while the head is shaken`;
    case "fast":
      return "move pan and tilt together at full speed";
    case "together":
      return "move everything at once, at full speed";
    default:
      return under satisfies never;
  }
};

/** The light itself is not moved. */
const movedHot = (drive: PlayedTest): string =>
  listed(
    testedIn(drive)
      .filter((id) => id !== "Dimmer")
      .map(functionWords),
    "and",
  );

const warmingMinutes = ([first]: PlayedTest["steps"]): number => Math.round((first?.options.seconds ?? 0) / 60);

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

const listed = (words: readonly string[], last: "and" | "or"): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;

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
