import { lint } from "../../data/profile/lint/lint.ts";
import { type ReadProfile, readProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { edited, remarked } from "../../domain/problem/edit.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { fileLibrary, libraryFile } from "../../io/files/files.ts";
import { replaceFile } from "../../io/files/outside.ts";
import { changeInWords, editsFor, type ProfileChange } from "../../run/verification/change.ts";
import { foundInWords, mend } from "../../run/verification/mend.ts";
import { reached } from "../../run/verification/questions.ts";
import {
  contradictions,
  firstPart,
  type SlotMoved,
  secondPart,
  slotsOf,
  timesPart,
} from "../../run/verification/steps.ts";
import { type Measured, measuredIn, measuredInWords, spanWords } from "../../run/verification/times.ts";
import { type TypedLines, typedLines } from "../../ui/typed-lines.ts";
import { type Loaded, otherProfiles } from "../common/data.ts";
import { EXIT, type ExitCode, refuse } from "../common/output.ts";
import { nobodyThere } from "../fixture/eyes.ts";
import { exitFor } from "../fixture/play-run.ts";
import { checkWords } from "./profile-check.ts";
import {
  measuredQuickness,
  type PlayedProof,
  type Prepared,
  type ProofOrder,
  type ProofPart,
  playPart,
  prepareProof,
} from "./proof-prepare.ts";

/** Proves a profile on a fixture that is known to be good: each function alone, then from end to end, and what is wrong is put right in the file. */
export const proveProfile = async (given: ProofOrder): Promise<ExitCode> => {
  const order = { ...given, file: libraryFile(given.file) ?? given.file };
  const prepared = prepareProof(order);
  if (!prepared.ok) return refuse(prepared.problems);
  if (!prepared.value.rig.simulated && process.stdin.isTTY !== true) return refuse([nobodyThere()]);
  const lines = typedLines();
  try {
    return await prove(order, { ...prepared.value, lines, quickness: await measuredQuickness(order) });
  } finally {
    lines.close();
  }
};

const prove = async (order: ProofOrder, part: Prepared & ProofPart): Promise<ExitCode> => {
  const { lines, read } = part;
  const before: ProofDraft = { text: read.text, profile: read.value.profile };
  introduce(lines, read.value, order);
  if (order.timesOnly) return await offerWriting(lines, order.file, before.text, await timeAll(part, before));
  const first = await playPart(part, asLoaded(before), firstPart(before.profile));
  if (!first.ok) return refuse(first.problems);
  if (!isWhole(first.value)) return exitFor(first.value.ended);
  const answers = movedIn(first.value);
  const found = mend(before.profile, otherProfiles(fileLibrary(), before.profile), order.address, answers);
  for (const words of foundInWords(found)) lines.say(safeText(words));
  const draft = await offerChanges(lines, before, "changes" in found ? found.changes : []);
  const listens = contradictions(slotsOf(before.profile), slotsOf(draft.profile), answers) === 0;
  const after = listens ? await proveEnds(part, draft) : draft;
  return await offerWriting(lines, order.file, before.text, after);
};

const asLoaded = ({ profile, text }: ProofDraft): Loaded<Profile> => ({ value: profile, text });
const isWhole = ({ ended }: PlayedProof): boolean => ended.stage.kind === "finished" && ended.stage.how === "finished";

const movedIn = ({ answers }: PlayedProof): readonly SlotMoved[] =>
  answers.flatMap((answer) => (answer.kind === "moved" ? [answer.moved] : []));

/** With everything known to listen, each function at its full speed from end to end. What was answered counts, also when it is stopped early. */
const proveEnds = async (part: ProofPart, draft: ProofDraft): Promise<ProofDraft> => {
  const { lines } = part;
  const text = secondPart(draft.profile);
  if (text === undefined) return draft;
  lines.say("\nNow from end to end, at full speed.");
  const second = await playPart(part, asLoaded(draft), text);
  if (!second.ok) throw new Error("Bug: the second part of a proof fits nothing");
  const { profile, answers, steps, view } = second.value;
  const { changes, open } = reached(profile, answers);
  for (const words of open) lines.say(`- ${safeText(words)}.`);
  const times = measuredIn(profile, steps, view, part.quickness);
  return await offerTimes(lines, await offerChanges(lines, draft, changes), times, measuredOn(part));
};

/** The times that matter in one go, for a profile whose slots and ends are known to be right. */
const timeAll = async (part: ProofPart, draft: ProofDraft): Promise<ProofDraft> => {
  const { lines } = part;
  const text = timesPart(draft.profile);
  if (text === undefined) {
    lines.say("Nothing of this profile can be timed by hand.");
    return draft;
  }
  lines.say("By the stopwatch: press ENTER each time it stops. Of a wheel only the long hops count.");
  const played = await playPart(part, asLoaded(draft), text);
  if (!played.ok) throw new Error("Bug: the times of a proof fit nothing");
  const { profile, steps, view } = played.value;
  return await offerTimes(lines, draft, measuredIn(profile, steps, view, part.quickness), measuredOn(part));
};

/** What was measured in a simulation must never pass for more. */
const measuredOn = ({ rig }: ProofPart) => (rig.simulated ? "a simulated fixture" : "a fixture");

const introduce = (lines: TypedLines, read: ReadProfile, { address, universe }: ProofOrder): void => {
  const doubts = lint(read).length;
  lines.say(`Verifying the profile ${safeText(read.profile.title)}, on universe ${universe}, address ${address}.`);
  if (doubts > 0) lines.say(`"limber profile check" has ${doubts} to say about it: read that first.`);
  lines.say(`Take a fixture that is known to be good, with power, homed and lit. Each function moves alone and slowly at first;
after it you say what moved. Nothing is written before a yes at the end.
`);
};

/** A profile's text while a proof goes on: what was agreed to is in it, the file is untouched. */
interface ProofDraft {
  readonly text: string;
  readonly profile: Profile;
}

/** Asks for each change whether it shall be made; ENTER alone leaves it. */
const offerChanges = async (
  lines: TypedLines,
  draft: ProofDraft,
  changes: readonly ProfileChange[],
): Promise<ProofDraft> => {
  let now = draft;
  for (const change of changes) {
    lines.say(`- ${safeText(changeInWords(change))}.`);
    if (await isYes(lines, "  Change the profile so? yes or [no]"))
      now = taken(lines, now, edited(now.text, editsFor(now.profile, change)));
  }
  return now;
};

/**
 * Asks for each time that was measured by enough presses whether it shall be taken; ENTER alone leaves it.
 * The spread is written behind the value.
 */
const offerTimes = async (
  lines: TypedLines,
  draft: ProofDraft,
  times: readonly Measured[],
  on: "a fixture" | "a simulated fixture",
): Promise<ProofDraft> => {
  let now = draft;
  for (const measured of times) {
    lines.say(`- ${safeText(measuredInWords(measured))}.`);
    // A time whose doubt nobody knows is no better than the guess that it would replace.
    if (measured.spread === undefined || !(await isYes(lines, "  Take the measured time? yes or [no]"))) continue;
    const path = ["functions", measured.function, measured.key];
    const text = edited(now.text, [{ path, text: String(measured.travel) }]);
    now = taken(lines, now, remarked(text, path, `measured on ${on}: ${spanWords(measured)}`));
  }
  return now;
};

/** Kept only when it can still be read. */
const taken = (lines: TypedLines, before: ProofDraft, text: string): ProofDraft => {
  const read = readProfile("profile", text);
  if (read.ok) return { text, profile: read.value.profile };
  lines.say("  This cannot be changed from here; change it by hand.");
  return before;
};

/** Writes everything agreed to into the file, after one more yes. */
const offerWriting = async (
  lines: TypedLines,
  file: string,
  before: string,
  { text }: ProofDraft,
): Promise<ExitCode> => {
  if (text === before) {
    lines.say("Nothing to write.");
    return EXIT.done;
  }
  lines.say(`\n${checkWords(file, text)}\n`);
  if (!(await isYes(lines, `Write this into ${safeText(file)}? yes or [no]`))) {
    lines.say("Nothing was written.");
    return EXIT.done;
  }
  const trouble = replaceFile(file, text);
  lines.say(trouble === undefined ? `Written into ${safeText(file)}.` : `${safeText(file)}: ${safeText(trouble)}`);
  return trouble === undefined ? EXIT.done : EXIT.world;
};

const isYes = async (lines: TypedLines, words: string): Promise<boolean> => {
  lines.say(words);
  return /^y(?:es)?$/i.test(((await lines.next()) ?? "").trim());
};
