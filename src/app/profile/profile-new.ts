import { basename } from "node:path";
import { slotRows, standing } from "../../data/profile/asking/ask.ts";
import { heardLine, type Interview, interview } from "../../data/profile/asking/interview.ts";
import { profileText } from "../../data/profile/write.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { FUNCTION_IDS, functionWords } from "../../domain/trade/functions.ts";
import { schemaFor } from "../../io/files/files.ts";
import { writeNew } from "../../io/files/outside.ts";
import { type TypedLines, typedLines } from "../../ui/typed-lines.ts";
import { EXIT, type ExitCode, print } from "../common/output.ts";
import { checkWords } from "./profile-check.ts";

/** Asks for a profile line by line, from the chart in the manual, and writes it to a file that was not there before. */
export const newProfile = async (out: string | undefined): Promise<ExitCode> => {
  const lines = typedLines();
  try {
    print(INTRODUCTION);
    const name = out === undefined ? undefined : /^([a-z0-9][a-z0-9-]*)\.ya?ml$/.exec(basename(out))?.[1];
    return (await converse(lines, name, out)) ?? nothingWritten();
  } finally {
    lines.close();
  }
};

const INTRODUCTION = `A profile from the chart in the manual, slot by slot.
ENTER alone takes what stands in brackets. "back" goes one answer back, "show" lists the answers so far,
"list" names the functions there are. Charts rarely give times: ENTER, and "limber profile verify" measures
them. Nothing is written before the end.
`;

const converse = async (
  lines: TypedLines,
  name: string | undefined,
  out: string | undefined,
): Promise<ExitCode | undefined> => {
  let now: Interview = interview(name);
  for (;;) {
    if (now.kind === "told") {
      const kept = await finish(lines, now, out);
      if (kept !== "back") return kept;
      now = interview(name, now.answers.slice(0, -1));
      continue;
    }
    const next = await answered(lines, now, name);
    if (next === undefined) return undefined;
    tellNews(now, next);
    now = next;
  }
};

type AskingInterview = Extract<Interview, { kind: "asking" }>;

/** Asks until the answer can be understood. */
const answered = async (
  lines: TypedLines,
  now: AskingInterview,
  name: string | undefined,
): Promise<Interview | undefined> => {
  const { question, draft } = now.asked;
  for (;;) {
    print(`${safeText(question.words)}${question.guess === undefined ? "" : ` [${safeText(question.guess)}]`}`);
    const line = await lines.next();
    if (line === undefined) return undefined;
    const aside = ASIDES[line.trim()]?.(draft);
    if (aside !== undefined) {
      print(aside);
      continue;
    }
    const said = heardLine(name, now, line);
    if (said.kind === "on") return said.interview;
    print(`  ${safeText(said.words)}`);
  }
};

/** What can be asked instead of answering. */
const ASIDES: Readonly<Record<string, (draft: AskingInterview["asked"]["draft"]) => string>> = {
  show: (draft) => shown(standing(draft)) || "  nothing yet",
  list: () => `  ${FUNCTION_IDS.map(functionWords).join(", ")}; "fine" for the fine slot of the one before; "other"`,
};

/** What an answer has made of the profile, when it has made something. */
const tellNews = (before: AskingInterview, next: Interview): void => {
  if (next.answers.length < before.answers.length) print("  One answer back.");
  if (next.kind !== "asking") return;
  const old = slotRows(before.asked.draft);
  const news = shown(slotRows(next.asked.draft).filter((row) => !old.includes(row)));
  if (next.answers.length > before.answers.length && news !== "") print(news);
};

const shown = (rows: readonly string[]): string => rows.map((row) => `  ${safeText(row)}`).join("\n");

const finish = async (
  lines: TypedLines,
  { charted: { file, remarks } }: Extract<Interview, { kind: "told" }>,
  out: string | undefined,
): Promise<ExitCode | "back" | undefined> => {
  const place = out ?? `${file.profile}.yaml`;
  const text = profileText(file, { ...remarks, schema: schemaFor(place) });
  print(`\n${text}\n${checkWords(place, text)}\n`);
  return await keepNew(lines, place, (there) => profileText(file, { ...remarks, schema: schemaFor(there) }));
};

const nothingWritten = (): ExitCode => {
  print("\nStopped. Nothing was written.");
  return EXIT.stopped;
};

/** Writes a file where none is, after a yes; asks for another place as long as there is something in the way. Undefined: a no. */
const keepNew = async (
  lines: TypedLines,
  usual: string,
  textFor: (file: string) => string,
): Promise<ExitCode | "back" | undefined> => {
  let place = usual;
  for (;;) {
    print(`Write it to ${safeText(place)}? [yes] or another file, "no", "back"`);
    const line = (await lines.next())?.trim();
    if (line === undefined || line === "no") return undefined;
    if (line === "back") return "back";
    if (line !== "" && line !== "yes") place = line;
    const trouble = writeNew(place, textFor(place));
    print(trouble === undefined ? `Written: ${safeText(place)}` : `  ${safeText(trouble)}: nothing is written there.`);
    if (trouble === undefined) return EXIT.done;
  }
};
