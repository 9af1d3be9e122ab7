import { FAULTS, type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { identityKey } from "../../domain/problem/identity.ts";
import {
  blocksPower,
  type DangerSource,
  type InspectionId,
  inspection,
  isSafetyInspection,
  SAFETY_FINDINGS,
  SAFETY_INSPECTIONS,
} from "../../domain/trade/inspections.ts";
import { eventsIn, type History, type Moment } from "./history.ts";
import { latestLooks, looksIn } from "./look-facts.ts";
import { explainedFinds } from "./repairs.ts";

/** A danger to people that was seen, measured or found, and that is not yet cleared: no power meanwhile. */
export interface OpenDanger {
  readonly words: string;
  /** What has to be good again at the end. */
  readonly source: DangerSource;
  /** Repaired (or a second opinion is recorded), but not yet seen to be good; or nothing was done yet. */
  readonly wants: "repair" | "good-answer";
}

/** The faults of which one must have been repaired before this inspection counts as good again: those that it tells well. */
export const curesOf = (look: InspectionId): readonly FaultId[] =>
  FAULTS.filter(
    ({ id, found, does }) =>
      (found[look] ?? 0) >= TELLS_WELL ||
      BURNT_PARTS[look]?.includes(id) ||
      (look === "water" && does.some(({ effect }) => effect === BURNT)),
  ).map(({ id }) => id);
const TELLS_WELL = 0.3;
const BURNT = "scorches";
/** What a burn mark may be of, beside what the inspection tells. Common practice, no source. */
const BURNT_PARTS: Readonly<Partial<Record<InspectionId, readonly FaultId[]>>> = {
  "driver-marks": ["board-faulty"],
  "yoke-boards": ["driver-dead", "board-faulty"],
};

/** Every open danger once, in the order in which they came. */
const openDangers = (history: History): readonly OpenDanger[] => {
  const open = [...seen(history), ...failedTests(history), ...confirmed(history)]
    .toSorted((a, b) => a.at - b.at)
    .flatMap((danger) => stillOpen(history, danger));
  return open.filter(({ words }, index) => open.findIndex((other) => other.words === words) === index);
};

/** Every danger that is still open, in words; one that was repaired stays until it was seen to be good again. */
export const dangerWords = (history: History): readonly string[] =>
  openDangers(history).map(({ words, wants }) =>
    wants === "repair" ? words : `${words}: not yet seen to be good again`,
  );

interface SeenDanger {
  readonly words: string;
  readonly source: DangerSource;
  readonly at: Moment;
  /** A second opinion is somebody else's. */
  readonly person: string;
  readonly cures: readonly FaultId[];
  /** Any of these, good after the repair, ends it. */
  readonly goodBy: readonly DangerSource[];
}

const seen = (history: History): readonly SeenDanger[] =>
  looksIn(history).flatMap(({ inspection: id, answer, at }) => {
    if (answer !== "bad" || !isSafetyInspection(id)) return [];
    const person = history[at]?.person ?? "";
    return [{ words: SAFETY_FINDINGS[id], source: id, at, person, cures: curesOf(id), goodBy: [id] }];
  });

/** An electrical safety test out of limit. Whatever carries mains may be why. */
const failedTests = (history: History): readonly SeenDanger[] =>
  eventsIn(history, "reading-taken").flatMap(({ at, body }) => {
    if (body.reading !== "electrical-safety" || body.verdict !== "outside") return [];
    const source = body.reading;
    return [{ words: FAILED_TEST, source, at, person: body.initials, cures: CARRY_MAINS, goodBy: [source] }];
  });
const FAILED_TEST = "electrical safety test out of limit";
const CARRY_MAINS = FAULTS.filter(
  ({ id, mechanism }) => mechanism === "power-supply" || mechanism === "yoke-loom" || id === "water-inside",
).map(({ id }) => id);

/** Somebody named a fault that is a danger in itself. */
const confirmed = (history: History): readonly SeenDanger[] => {
  const explained = explainedFinds(history);
  return eventsIn(history, "found").flatMap(({ at, body }) => {
    if (body.what !== "fault" || !isDangerous(body.fault) || explained.has(at)) return [];
    const { id, title, found } = knownFault(body.fault);
    const goodBy = SAFETY_INSPECTIONS.filter((look) => look in found);
    const [source] = goodBy.toSorted((a, b) => (found[b] ?? 0) - (found[a] ?? 0));
    if (!source) throw new Error(`Bug: no inspection tells whether ${id} is still there`);
    return [{ words: title, source, at, person: history[at]?.person ?? "", cures: [id], goodBy }];
  });
};

/** Faults that an inspection of the list tells best; a driver that is dead has not burnt for that. */
const isDangerous = (fault: FaultId): boolean => {
  const { found, danger } = knownFault(fault);
  const [best] = Object.entries(found).sort(([, a], [, b]) => b - a);
  return danger === "out of service" || SAFETY_INSPECTIONS.some((id) => id === best?.[0] && id !== "driver-marks");
};

const stillOpen = (history: History, danger: SeenDanger): readonly OpenDanger[] => {
  const { words, source } = danger;
  const done = Math.max(repairedAt(history, danger), secondOpinionAt(history, danger));
  if (done < danger.at) return [{ words, source, wants: "repair" }];
  return isGoodSince(history, danger, done) ? [] : [{ words, source, wants: "good-answer" }];
};

/** "Something else" says nothing of an inspection; what made the electrical test fail may have no name here. */
const repairedAt = (history: History, { cures, source, at }: SeenDanger): Moment =>
  Math.max(
    NOT_SINCE,
    ...eventsIn(history, "repaired")
      .filter((one) => one.at > at)
      .filter(({ body }) =>
        body.what === "fault" ? cures.includes(body.fault) : source === "electrical-safety" && body.note.trim() !== "",
      )
      .map((one) => one.at),
  );
const NOT_SINCE = -1;

const secondOpinionAt = (history: History, { goodBy, person, at }: SeenDanger): Moment =>
  Math.max(
    NOT_SINCE,
    ...eventsIn(history, "second-opinion")
      .filter((one) => one.at > at && goodBy.some((id) => id === one.body.about))
      .filter(({ body }) => identityKey(body.initials) !== identityKey(person))
      .map((one) => one.at),
  );

const isGoodSince = (history: History, { goodBy }: SeenDanger, since: Moment): boolean =>
  looksIn(history).some((one) => one.at > since && one.answer === "good" && goodBy.includes(one.inspection)) ||
  (goodBy.includes("electrical-safety") &&
    eventsIn(history, "reading-taken").some(
      ({ at, body }) =>
        at > since && body.reading === "electrical-safety" && body.verdict === "within" && body.initials.trim() !== "",
    ));

/**
 * Says that it smelt burnt while it ran, and nothing that can smell so was repaired since; another
 * person's opinion on the smell ends it too.
 */
export const burntSmells = (history: History): readonly string[] => {
  const cures = curesOf("water");
  const last = eventsIn(history, "step-judged").findLast(
    ({ at, body }) => body.symptoms.some(({ symptom }) => symptom === "smells-burnt") && !isCorrected(history, at),
  );
  if (!last) return [];
  const { person = "" } = history[last.at] ?? {};
  const danger: SeenDanger = { words: BURNT_WORDS, source: "water", at: last.at, person, cures, goodBy: ["water"] };
  return Math.max(repairedAt(history, danger), secondOpinionAt(history, danger)) > last.at ? [] : [BURNT_WORDS];
};
const BURNT_WORDS = "it smelt burnt while it ran, and nothing was repaired for it";

const isCorrected = (history: History, at: Moment): boolean => {
  const { run, body } = history[at] ?? {};
  const step = body?.kind === "step-judged" ? body.step : undefined;
  const next = history
    .slice(at + 1)
    .find(
      (one) =>
        one.run === run &&
        (one.body.kind === "step-corrected" || one.body.kind === "step-judged") &&
        one.body.step === step,
    );
  return next?.body.kind === "step-corrected";
};

/** Looks from outside that forbid switching on whatever they were called, while their last answer is not good. */
const blockingLooks = (history: History): readonly InspectionId[] =>
  [...latestLooks(history)].flatMap(([id, { answer }]) =>
    blocksPower(id) && (answer === "bad" || answer === "unsure") ? [id] : [],
  );

/** Everything for which the mains stays off, dangers first. Empty: nothing speaks against power. */
export const againstPower = (history: History): readonly OpenDanger[] => {
  const dangers = openDangers(history);
  const others = blockingLooks(history).filter((id) => !dangers.some(({ source }) => source === id));
  return [
    ...dangers,
    ...others.map((id) => ({ words: `${inspection(id).look}: not good`, source: id, wants: "good-answer" as const })),
  ];
};
