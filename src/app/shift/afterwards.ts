import { identityKey } from "../../domain/problem/identity.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import { ASIDE_REASONS, ASIDE_WORDS, type AsideReason } from "../../run/events/by-hand.ts";
import { EVENT_VERSION } from "../../run/events/event.ts";
import { VERDICT_WORDS, verdictOf } from "../../run/release/release-status.ts";
import { bestOffer, type LevelOffer, nearestOffer } from "../../run/release/still-due.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { offersFor } from "../common/shop.ts";
import { sign } from "../journal/between-runs.ts";
import { openHere } from "../journal/with-journal.ts";
import type { Phone, PhoneQuestion } from "../phone/beside.ts";
import type { ShiftSettings } from "./board.ts";

interface EndOptions {
  readonly journal: string;
  /** The shop file with the levels of release: a name or a file. */
  readonly shop: string;
  /** Asked there too, where one was paired. */
  readonly phone: Phone | undefined;
}

type EndSettings = Pick<ShiftSettings, "person">;

/** Says what came of a run, and asks for the one key that ends it: a signature, or why the fixture is set aside. */
export const afterwards = async (
  serial: string,
  code: ExitCode,
  options: EndOptions,
  settings: EndSettings,
): Promise<void> => {
  const offers = await withRuns(options.journal, (journal) =>
    offersFor(journal, serial, options.journal, options.shop),
  );
  if (!offers.ok) {
    refuse(offers.problems);
    return;
  }
  const best = bestOffer(offers.value);
  // Whoever stopped it had a reason, whatever an earlier run had shown.
  if (best && code === EXIT.done) return await offerSignature(serial, best, options, settings);
  tellBlocked(serial, await verdictNow(serial, options), nearestOffer(offers.value));
  await offerAside(serial, code, options, settings);
};

const verdictNow = async (serial: string, { journal: file }: EndOptions): Promise<string> => {
  const standing = await withRuns(file, async (journal) =>
    (await journal.standings({ kind: "fixture", serial })).get(identityKey(serial)),
  );
  return standing ? VERDICT_WORDS[verdictOf(standing).kind] : VERDICT_WORDS["not-released"];
};

const MOST_REASONS = 3;

/** At most three reasons: whoever stands here wants to know what to do next, the rest is in the history. */
const tellBlocked = (serial: string, verdict: string, nearest: LevelOffer | undefined): void => {
  const reasons = nearest?.reasons ?? [];
  print(`\n${safeText(serial)}: ${verdict.toUpperCase()}`);
  for (const { words } of reasons.slice(0, MOST_REASONS)) print(`  - ${safeText(words)}`);
  if (reasons.length > MOST_REASONS)
    print(`  and ${reasons.length - MOST_REASONS} more: limber history ${safeText(serial)}`);
};

const offerSignature = async (
  serial: string,
  offer: LevelOffer,
  { journal, shop, phone }: EndOptions,
  { person }: EndSettings,
): Promise<void> => {
  print(`\n${safeText(serial)}: NOTHING WRONG, ready for release at level ${safeText(offer.level)}`);
  const words = `ENTER alone releases it, signed ${safeText(person)}. Anything else leaves it unsigned.`;
  const said = await askLine(phone, words, {
    headline: `${safeText(serial)}: nothing wrong`,
    lines: [`Ready for release at level ${safeText(offer.level)}.`],
    answers: [
      { words: `release it, signed ${safeText(person)}`, line: "" },
      { words: "leave it unsigned", line: "not signed" },
    ],
    field: undefined,
  });
  if (said === "") await sign(serial, { journal, person, note: "", shop, level: offer.level });
  else print(`${safeText(serial)} is not signed.`);
};

const offerAside = async (
  serial: string,
  code: ExitCode,
  { journal: file, phone }: EndOptions,
  { person }: EndSettings,
): Promise<void> => {
  if (code === EXIT.stopped) print("Stopped. To continue it, scan it again, or type: limber resume");
  const choices = ASIDE_REASONS.map((why, at) => `${at + 1}: ${ASIDE_WORDS[why]}`).join(", ");
  const said = await askLine(phone, `Set aside? ${choices}. ENTER alone: no.`, {
    headline: `Set ${safeText(serial)} aside?`,
    lines: [],
    answers: [
      { words: "no", line: "" },
      ...ASIDE_REASONS.map((why, at) => ({ words: ASIDE_WORDS[why], line: String(at + 1) })),
    ],
    field: undefined,
  });
  const why = ASIDE_REASONS[Number(said) - 1];
  if (why !== undefined) await setAside(file, serial, person, why);
};

const setAside = (file: string, serial: string, person: string, why: AsideReason): Promise<void> =>
  withRuns(file, async (journal) => {
    const last = (await journal.briefs({ kind: "fixture", serial })).at(-1);
    if (!last) return;
    const at = new Date().toISOString();
    await journal.append({
      id: `${last.run}-aside-${at}`,
      v: EVENT_VERSION,
      bench: last.bench,
      person,
      at,
      run: last.run,
      body: { kind: "set-aside", why, note: "" },
    });
    print(`${safeText(serial)}: ${ASIDE_WORDS[why]}.`);
  });

/** Works on a journal that is open only while it is asked something: the run itself opens it too. */
export const withRuns = async <T>(file: string, work: (journal: FileJournal) => Promise<T>): Promise<T> => {
  const journal = await openHere(file);
  try {
    return await work(journal);
  } finally {
    await journal.close();
  }
};

/** One line from whoever stands here, at the terminal or on the phone; undefined when no more will come. */
export const askLine = async (
  phone: Phone | undefined,
  words: string,
  question: PhoneQuestion,
): Promise<string | undefined> => {
  const lines = typedLines();
  lines.say(words);
  const onPhone = phone?.ask(question);
  const typed = lines.next();
  const touched = onPhone?.answer.then((line) => {
    lines.say(`> ${safeText(line)}  (on the phone)`);
    return line;
  });
  const line = await (touched === undefined ? typed : Promise.race([typed, touched]));
  onPhone?.over();
  lines.close();
  return line?.trim();
};
