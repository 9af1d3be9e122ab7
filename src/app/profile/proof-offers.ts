import { readProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { edited, remarked } from "../../domain/problem/edit.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { replaceFile } from "../../io/files/outside.ts";
import { changeInWords, editsFor, type ProfileChange } from "../../run/verification/change.ts";
import { type Measured, measuredInWords, spanWords } from "../../run/verification/times.ts";
import type { TypedLines } from "../../ui/typed-lines.ts";
import { EXIT, type ExitCode } from "../common/output.ts";
import { checkWords } from "./profile-check.ts";

/** A profile's text while a proof goes on: what was agreed to is in it, the file is untouched. */
export interface ProofDraft {
  readonly text: string;
  readonly profile: Profile;
}

/** Asks for each change whether it shall be made; ENTER alone leaves it. */
export const offerChanges = async (
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
export const offerTimes = async (
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
export const offerWriting = async (
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
