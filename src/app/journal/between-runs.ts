import { randomBytes } from "node:crypto";
import { type People, roleTrouble } from "../../data/shop/shop.ts";
import { FAULT_IDS } from "../../diagnosis/model/knowledge/faults.ts";
import { identityKey } from "../../domain/problem/identity.ts";
import { bad, good, hintFor, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { SAFETY_INSPECTIONS } from "../../domain/trade/inspections.ts";
import { READING_IDS, READINGS, valueTrouble } from "../../domain/trade/readings.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import { nextInWords } from "../../reports/next-words.ts";
import { releaseStatusInWords } from "../../reports/status-words.ts";
import { printedHead } from "../../run/events/chain.ts";
import { EVENT_VERSION, type EventBody } from "../../run/events/event.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import { FULL } from "../../run/release/levels.ts";
import type { ReleaseStatus } from "../../run/release/release-status.ts";
import { bestOffer, dueNextInWords, type LevelOffer, nearestOffer } from "../../run/release/still-due.ts";
import { complain, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { offersFor, peopleFor } from "../common/shop.ts";
import type { ByHandOptions } from "./by-hand.ts";
import { isTrusted } from "./journal-check.ts";
import { withJournal } from "./with-journal.ts";

/** Signs a fixture back, or refuses with every reason. */
export const sign = (
  serial: string,
  { shop, level, ...options }: ByHandOptions & { readonly shop: string; readonly level: string | undefined },
): Promise<ExitCode> =>
  withFixture(serial, options, async ({ standing, keep, journal, people }) => {
    const unfit = roleTrouble(people, "release", options.person);
    if (unfit !== undefined) return refuse([problem("--person", unfit)]);
    if (standing.state === "ready") return tellStanding(standing, EXIT.done);
    const offers = await offersFor(journal, serial, options.journal, shop);
    if (!offers.ok) return refuse(offers.problems);
    const asked = level === undefined ? offers.value : offers.value.filter((one) => one.level === level);
    const offer = bestOffer(asked);
    if (!offer) return refuseAt(serial, nearestOffer(asked), level);
    if (!(await isTrusted(journal, serial))) return EXIT.world;
    const code = await keep(signature(offer, options));
    const now = await offersFor(journal, serial, options.journal, shop);
    await tellSigned(journal, now.ok ? now.value.find((one) => one.level === offer.level) : undefined);
    return code;
  });

const signature = ({ level, due }: LevelOffer, { person, note }: ByHandOptions): EventBody => ({
  kind: "signed-off",
  initials: person,
  note,
  ...(due === FULL ? {} : { level: { name: level, due: [...due] } }),
});

/** When the rest is due, this return counted, and where the journal stands now. */
const tellSigned = async (journal: FileJournal, offer: LevelOffer | undefined): Promise<void> => {
  const next = offer ? dueNextInWords(offer) : "";
  if (next !== "") print(next);
  const head = await journal.head();
  if (head) print(`Journal at ${printedHead(head)}`);
};

const refuseAt = (serial: string, offer: LevelOffer | undefined, level: string | undefined): ExitCode => {
  if (!offer) return refuse([problem(level ?? "", "there is no such level in the shop file")]);
  complain(`${safeText(serial)} cannot be released at level ${safeText(offer.level)}:`);
  for (const { words } of offer.reasons) complain(`  - ${safeText(words)}`);
  complain(nextInWords(serial, offer.reasons));
  return EXIT.input;
};

/** Holds a fixture back, with everything that blocks its release and a person's own words. */
export const holdBack = (serial: string, why: string, options: ByHandOptions): Promise<ExitCode> =>
  withFixture(serial, options, async ({ standing, keep }) =>
    why.trim() === ""
      ? refuse([problem("--why", "say why it is held back", '--why "waits for a part"')])
      : keep({
          kind: "quarantined",
          reasons: standing.reasons.map(({ words }) => words),
          initials: options.person,
          note: why,
        }),
  );

/** Lifts what is held back: a person does, and says why. */
export const liftHold = (serial: string, why: string, options: ByHandOptions): Promise<ExitCode> =>
  withFixture(serial, options, async ({ standing, keep, people }) => {
    const unfit = roleTrouble(people, "lift", options.person);
    if (unfit !== undefined) return refuse([problem("--person", unfit)]);
    if (!standing.reasons.some(({ rule }) => rule === "held-back"))
      return refuse([problem(serial, "nobody holds it back")]);
    if (why.trim() === "") return refuse([problem("--why", "say why it is no longer held back")]);
    return keep({ kind: "hold-lifted", initials: options.person, note: why });
  });

/** Somebody else looked as well and takes a danger for none; a good answer to the inspection must follow. */
export const secondOpinion = (serial: string, about: string, why: string, options: ByHandOptions): Promise<ExitCode> =>
  withFixture(serial, options, async ({ keep, people }) => {
    const unfit = roleTrouble(people, "lift", options.person);
    if (unfit !== undefined) return refuse([problem("--person", unfit)]);
    const known = [...SAFETY_INSPECTIONS, "electrical-safety" as const];
    const source = known.find((id) => id === about);
    if (!source)
      return refuse([problem(about, "is not an inspection of a danger", hintFor(about, known) ?? known.join(", "))]);
    if (why.trim() === "") return refuse([problem("--why", "say why it is no danger")]);
    return keep({ kind: "second-opinion", about: source, initials: options.person, note: why });
  });

/** Keeps that a fault was repaired, between two runs. */
export const mended = (
  serial: string,
  what: string,
  { part, minutes, ...options }: ByHandOptions & { readonly part: string; readonly minutes: number },
): Promise<ExitCode> =>
  withFixture(serial, options, async ({ keep }) => {
    const body = repairBody(what, { part, minutes, initials: options.person, note: options.note });
    return body.ok ? keep(body.value) : refuse(body.problems);
  });

const repairBody = (
  what: string,
  work: { readonly part: string; readonly minutes: number; readonly initials: string; readonly note: string },
): Result<EventBody> => {
  const fault = FAULT_IDS.find((id) => id === what);
  if (fault) return good({ kind: "repaired", what: "fault", fault, ...work });
  if (what === "other" && work.note !== "") return good({ kind: "repaired", what: "something-else", ...work });
  const hint = hintFor(what, FAULT_IDS) ?? 'a fault as "limber faults RUN" names it, or other with --note';
  return bad(problem(what, "is not a known fault", hint));
};

/** Keeps a reading that a competent person took, whose initials these are. */
export const takeReading = (
  serial: string,
  which: string,
  { verdict, value, ...options }: ByHandOptions & { readonly verdict: string; readonly value: number | undefined },
): Promise<ExitCode> =>
  withFixture(serial, options, async ({ keep, people }) => {
    const reading = READING_IDS.find((id) => id === which);
    const said = (["within", "outside"] as const).find((one) => one === verdict);
    if (!reading)
      return refuse([
        problem(which, "is not a known measurement", hintFor(which, READING_IDS) ?? READING_IDS.join(", ")),
      ]);
    if (!said) return refuse([problem(verdict, "is not a valid answer", "type within or outside (the limit)")]);
    const { unit, signed } = READINGS[reading];
    const unfit = signed === "by a competent person" ? roleTrouble(people, "measure", options.person) : undefined;
    if (unfit !== undefined) return refuse([problem("--person", unfit)]);
    const trouble = said === "within" ? valueTrouble(reading, value) : undefined;
    if (trouble !== undefined) return refuse([problem("--value", trouble, "what the meter showed")]);
    const measured = value === undefined ? {} : { value };
    return keep({
      kind: "reading-taken",
      reading,
      ...measured,
      unit,
      verdict: said,
      initials: options.person,
      note: options.note,
    });
  });

interface FixtureHere {
  readonly journal: FileJournal;
  readonly standing: ReleaseStatus;
  readonly people: People;
  readonly keep: (body: EventBody) => Promise<ExitCode>;
}

const withFixture = (
  serial: string,
  { journal: file, person }: ByHandOptions,
  work: (fixture: FixtureHere) => Promise<ExitCode>,
): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    if (person.trim() === "") return refuse([problem("--person", "initials are needed", "--person KM")]);
    const people = peopleFor(file);
    if (!people.ok) return refuse(people.problems);
    const runs = await journal.briefs({ kind: "fixture", serial });
    const last = runs.findLast(({ simulated }) => !simulated) ?? runs.at(-1);
    const standing = (await journal.standings({ kind: "fixture", serial })).get(identityKey(serial));
    if (!last || !standing) return refuse([await unknownSerial(journal, serial)]);
    return work({ journal, standing, people: people.value, keep: (body) => keep(journal, last, person, body) });
  });

const unknownSerial = async (journal: FileJournal, serial: string) => {
  const serials = [...new Set((await journal.briefs({ kind: "all" })).map((brief) => brief.serial))];
  return problem(
    serial,
    "there is no fixture with this serial number in the journal",
    hintFor(serial, serials) ?? '"limber stock" lists them',
  );
};

const keep = async (
  journal: FileJournal,
  { run, bench, serial }: RunSummary,
  person: string,
  body: EventBody,
): Promise<ExitCode> => {
  const id = `${run}-between-${randomBytes(6).toString("hex")}`;
  await journal.append({ id, v: EVENT_VERSION, bench, person, at: new Date().toISOString(), run, body });
  const standing = (await journal.standings({ kind: "fixture", serial })).get(identityKey(serial));
  return standing ? tellStanding(standing, EXIT.done) : EXIT.done;
};

const tellStanding = (standing: ReleaseStatus, code: ExitCode): ExitCode => {
  const [state = "", ...reasons] = releaseStatusInWords(standing);
  print(`Status: ${safeText(state)}`);
  for (const reason of reasons) print(`  - ${safeText(reason)}`);
  return code;
};
