import { safeText } from "../domain/problem/shown-text.ts";
import { type Batch, type Member, memberAt } from "../run/batch/batch.ts";
import { stepOf } from "../run/batch/flow.ts";
import { seenOf, stateAtEnd } from "../run/batch/members.ts";
import { functionsInWords, stepAt } from "../run/session/job.ts";
import { fixtureKeys, leafingOf, letterOf } from "./fixture-keys.ts";
import { sensorsInBrief } from "./sensor-lines.ts";
import type { Sight } from "./sight.ts";
import { timesInWords } from "./step-words.ts";
import { symptomInWords } from "./symptom-pages.ts";
import { travelAt } from "./travel-rows.ts";
import { capital, type FixtureList, type FixtureRow } from "./view.ts";

/**
 * The rack shelf by shelf, one row for each fixture: its key while it can be pressed for, its place, how it is with it.
 * Before anything moves all are listed, also for somebody far away: nobody confirms the area of a fixture unseen.
 */
export const fixtureRows = (sight: Sight): FixtureList => {
  const { batch, desk, plan, letters } = sight;
  const keys = fixtureKeys(batch, desk, plan);
  const isSafety = isBeforeMoving(batch);
  return {
    kind: "fixtures",
    rows: [...batch.members.keys()].map((index) => rowOf(sight, index, keys.has(index))),
    keyWidth: letterOf(batch.members.length - 1, plan).label.length,
    which: letters === "usual" || isSafety ? "all" : "that stand out",
    crowded: isSafety ? "by shelf" : "by pages",
    leafing: leafingOf(batch, desk.page),
  };
};

const isBeforeMoving = ({ stage }: Batch): boolean => stage.kind === "holding" && stage.point === "before-moving";

/** Where a safety page has no list, all fixtures in words, a sentence for each shelf; nothing on any other page. */
export const fixturesInWords = (batch: Batch): readonly string[] =>
  isBeforeMoving(batch)
    ? byShelf(batch.members.map(({ place, serial }) => ({ shelf: place.shelf, serial: safeText(serial) }))).map(
        ({ shelf, serials }) => `${capital(safeText(shelf))}: ${serials.join(", ")}.`,
      )
    : [];

/** Fixtures that stand next to each other in the list and on one shelf. */
export const byShelf = (
  fixtures: readonly Pick<FixtureRow, "shelf" | "serial">[],
): readonly { readonly shelf: string; readonly serials: readonly string[] }[] => {
  const shelves: { readonly shelf: string; readonly serials: string[] }[] = [];
  for (const { shelf, serial } of fixtures) {
    const last = shelves.at(-1);
    if (last?.shelf === shelf) last.serials.push(serial);
    else shelves.push({ shelf, serials: [serial] });
  }
  return shelves;
};

const rowOf = (sight: Sight, index: number, pressable: boolean): FixtureRow => {
  const { batch, desk, plan } = sight;
  const { place, serial } = memberAt(batch, index);
  return {
    key: pressable ? letterOf(index, plan).label : "",
    shelf: place.shelf,
    position: place.position,
    serial: safeText(serial),
    state: stateOf(batch, index),
    detail: detailOf(sight, index),
    look: movesNow(batch, index) || desk.picked === index ? "strong" : "plain",
  };
};

/** How a fixture is doing, in words. `index` is its place in the rack, from 0. */
export const stateOf = (batch: Batch, index: number): string => {
  const member = memberAt(batch, index);
  const { stage } = batch;
  if (member.state === "withdrawn") return "withdrawn";
  if (movesNow(batch, index) && "next" in stage) return movingInWords(member, stage.next.index);
  if ("member" in stage && stage.member === index) return "alone now";
  if (batch.lost.includes(member.spot.universe)) return "line lost";
  if (stage.kind === "finished" || member.session.view.closed === "finished") return stateAtEnd(member);
  if (differs(batch, index)) return "suspect";
  return wasWatched(member) ? "no press yet" : "waits";
};

const movesNow = ({ stage }: Batch, index: number): boolean =>
  (stage.kind === "moving" || stage.kind === "slow-start") && stage.next.members.includes(index);

const movingInWords = ({ session }: Member, step: number): string => {
  const count = session.view.steps[step]?.presses.length ?? 0;
  return count === 0 ? "moves now" : `pressed ${timesInWords(count)}`;
};

/**
 * Whether something was seen of a fixture, or pressed for it, whatever it does now.
 * `index` is its place in the rack, from 0.
 */
export const differs = (batch: Batch, index: number): boolean =>
  ["fault seen", "suspect"].includes(seenOf(memberAt(batch, index)));

const wasWatched = ({ session: { group, view } }: Member): boolean =>
  group.length > 0 || view.steps.some(({ judged }) => judged !== undefined && judged.result !== "not-fitted");

/** While it soaks its sensors, where it has any. Of a simulated fixture that moves: where it is. Else what was seen of it, the latest first. */
const detailOf = (sight: Sight, index: number): FixtureRow["detail"] => {
  const { batch } = sight;
  const { stage } = batch;
  const member = memberAt(batch, index);
  const brief =
    stage.kind === "moving" && stepOf(batch, stage.next).routine === "soak" ? sensorsInBrief(member.session.view) : "";
  if (brief !== "") return { kind: "words", words: brief };
  const symptoms = member.session.view.steps.flatMap(({ judged }) => judged?.symptoms ?? []).toReversed();
  const seen = symptoms.length > 0 ? [...new Set(symptoms.map(symptomInWords))].join("; ") : pressedFor(member);
  return shownOf(sight, index) ?? { kind: "words", words: seen };
};

const pressedFor = ({ session }: Member): string => {
  const pressed = session.view.steps.flatMap(({ presses }, index) =>
    presses.length > 0 ? [functionsInWords(stepAt(session.job, index))] : [],
  );
  return pressed.length > 0 ? `pressed: ${[...new Set(pressed)].join(", ")}` : "";
};

/** Where a simulated fixture is along the travel of what moves, and what it sounds like; undefined where nobody can know. */
const shownOf = ({ batch, frame, shown }: Sight, index: number): FixtureRow["detail"] | undefined => {
  const { stage } = batch;
  const seen = shown[index];
  if (!seen || stage.kind !== "moving" || !stage.next.members.includes(index)) return undefined;
  const { spot, session } = memberAt(batch, index);
  const step = stepAt(session.job, stage.next.index);
  const id = stepOf(batch, stage.next).functions[0] ?? "Pan";
  const { parts, sounds } = seen.spectacle;
  const words = sounds[0]?.replace(/^[^:]*: /, "") ?? parts.find((one) => one.function === id)?.words ?? "";
  return { kind: "strip", words, ...travelAt(spot.profile, step, id, frame, seen) };
};
