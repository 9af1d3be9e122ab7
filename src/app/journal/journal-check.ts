import { existsSync } from "node:fs";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import { many } from "../../reports/status-words.ts";
import { printedHead, readHead } from "../../run/events/chain.ts";
import { findingInWords, findingKey, type JournalFinding } from "../../run/events/journal-finding.ts";
import { complain, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { withJournal } from "./with-journal.ts";

export interface CheckOptions {
  readonly journal: string;
  readonly json: boolean;
  /** The head that a job sheet or label prints; undefined when nothing is to be compared. */
  readonly printed: string | undefined;
}

/** Everything in the journal compared with the chain of its events: what was changed, removed or put back shows. */
export const checkJournal = async ({ journal: file, json, printed }: CheckOptions): Promise<ExitCode> => {
  const head = printed === undefined ? undefined : readHead(printed);
  if (printed !== undefined && !head)
    return refuse([
      problem(printed, "is not what a job sheet or label says", 'a number and letters, "1234-0a1b2c3d4e5f"'),
    ]);
  return withJournal(file, async (journal) => {
    const { events, findings, accepted } = await journal.check({ kind: "all" }, countOnTerminal);
    const absent = head && !(await journal.has(head)) ? [{ kind: "printed", head } as const] : [];
    const all = [...findings, ...absent];
    const last = await journal.head();
    if (json) print(JSON.stringify({ events, head: last, findings: all, accepted }, undefined, 2));
    else {
      tell(all, `${many(events, "event")}, each as it was written and where it belongs.`);
      for (const { words } of accepted) print(`Accepted: ${safeText(words)}`);
      if (last) print(`Last event of this bench: ${printedHead(last)}`);
    }
    return all.length === 0 ? EXIT.done : EXIT.world;
  });
};

const tell = (findings: readonly JournalFinding[], sound: string): void => {
  print(findings.length === 0 ? sound : `${many(findings.length, "thing")} wrong with this journal:`);
  for (const finding of findings) print(`  - ${safeText(findingInWords(finding))}`);
};

/** Written over itself while it grows, and only where somebody looks on. */
const countOnTerminal = (events: number): void => {
  if (process.stderr.isTTY && events > 0 && events % 5000 === 0) process.stderr.write(`\r${events} events read\r`);
};

/** These cannot be undone, so a person may go on knowing of them. What is damaged is rescued first; what is derived is made again. */
const ACCEPTABLE: readonly JournalFinding["kind"][] = ["gap", "ended", "unchained"];

/** A person accepts what the check finds missing; it stays written, with the reason, and is told at every check. */
export const acceptFindings = async (file: string, person: string, note: string): Promise<ExitCode> => {
  if (person.trim() === "") return refuse([problem("--person", "initials are needed", "--person KM")]);
  return withJournal(file, async (journal) => {
    const { findings } = await journal.check({ kind: "all" }, countOnTerminal);
    const [known, rest] = [findings.filter(isAcceptable), findings.filter((one) => !isAcceptable(one))];
    for (const finding of known)
      await journal.accept({ key: findingKey(finding), words: `${findingInWords(finding)}; ${person}: ${note}` });
    print(
      known.length === 0 ? "Nothing to accept." : `Accepted by ${safeText(person)}: ${many(known.length, "thing")}.`,
    );
    if (rest.length > 0) tell(rest, "");
    return rest.length === 0 ? EXIT.done : EXIT.world;
  });
};

const isAcceptable = ({ kind }: JournalFinding): boolean => ACCEPTABLE.includes(kind);

/** Before a signature: true when the journal can be trusted about this fixture, else says what is wrong. */
export const isTrusted = async (journal: FileJournal, serial: string): Promise<boolean> => {
  const { findings } = await journal.check({ kind: "fixture", serial }, countOnTerminal);
  if (findings.length === 0) return true;
  complain("The journal does not hold together, so nothing can be signed by it:");
  for (const finding of findings) complain(`  - ${safeText(findingInWords(finding))}`);
  complain(
    '"limber journal rescue NEW-FILE" saves what is sound of a damaged one; "limber journal accept" goes on although events are missing.',
  );
  return false;
};

/** Saves what can be saved of a damaged journal; the damaged file stays as it is. */
export const rescue = async (file: string, out: string): Promise<ExitCode> => {
  if (!existsSync(file)) return refuse([problem(file, "there is no journal here", "--journal names another one")]);
  const { rescueJournal } = await import("../../io/store/rescue.ts");
  const { events, runs, lost } = rescueJournal(file, out, new Date().toISOString());
  print(`Written to ${safeText(out)}: ${many(events, "event")} of ${many(runs, "run")}, each as it was written.`);
  if (lost.length === 0) print("Nothing was lost.");
  else print("Not in it:");
  for (const one of lost) print(`  - ${safeText(one)}`);
  print(
    `${safeText(file)} is as it was. To go on with the new one, keep the old one elsewhere and name the new one in its place.`,
  );
  return lost.length === 0 ? EXIT.done : EXIT.world;
};
