import { safeText } from "../domain/problem/terminal.ts";
import { cut, padded, widthOf } from "../reports/wrap.ts";
import { type Batch, type Member, memberAt } from "../run/batch/batch.ts";
import { stepOf } from "../run/batch/flow.ts";
import type { Spectacle } from "../run/ports.ts";
import { functionsInWords, stepAt } from "../run/session/job.ts";
import { symptomInWords } from "./pages.ts";
import { fixtureKeys, letterOf, pageInRack, pageOfRack, pagesOfRack } from "./rack-keys.ts";
import { movesNow, stateOf } from "./rack-states.ts";
import { asRow, type Row } from "./rows.ts";
import { sensorsInBrief } from "./sensor-lines.ts";
import type { RackSight } from "./sight.ts";
import { stripOf } from "./strip.ts";
import { toldPlace } from "./told.ts";

/** The rack shelf by shelf, one row for each fixture: its key while it can be pressed for, its place, how it is with it. */
export const fixtureRows = (sight: RackSight): readonly Row[] => {
  const { batch, desk, plan } = sight;
  const keys = fixtureKeys(batch, desk.leafed, plan);
  const shown = pageOfRack(batch, desk.leafed);
  const widths = widthsOf(batch, shown);
  const rows = shown.map((index, at) => {
    const { shelf } = memberAt(batch, index).place;
    const before = at === 0 ? undefined : memberAt(batch, shown[at - 1] ?? 0).place.shelf;
    const key = keys.has(index) ? letterOf(index, plan).label : undefined;
    return rowOf(sight, index, { key, shelf: shelf === before ? "" : shelf, widths });
  });
  const pages = pagesOfRack(batch);
  return pages < 2
    ? rows
    : [
        ...rows,
        asRow(
          `${batch.members.length} fixtures. TAB: next page, ${pageInRack(batch, desk.leafed)} of ${pages}.`,
          "faint",
          1,
        ),
      ];
};

interface Widths {
  readonly shelf: number;
  readonly position: number;
  readonly serial: number;
  readonly state: number;
}

const widthsOf = (batch: Batch, shown: readonly number[]): Widths => {
  const members = shown.map((index) => memberAt(batch, index));
  const widest = (words: (member: Member) => string, most: number) =>
    Math.min(most, Math.max(0, ...members.map((member) => words(member).length)));
  return {
    shelf: widest(({ place }) => place.shelf, 12),
    position: widest(({ place }) => place.position, 17),
    serial: widest(({ serial }) => safeText(serial), 10),
    state: Math.max(...shown.map((index) => stateOf(batch, index).length)),
  };
};

const rowOf = (
  sight: RackSight,
  index: number,
  { key, shelf, widths }: { readonly key: string | undefined; readonly shelf: string; readonly widths: Widths },
): Row => {
  const member = memberAt(sight.batch, index);
  const state = stateOf(sight.batch, index);
  const cells = [
    cell(shelf, widths.shelf),
    (key ?? "").padEnd(Math.max(1, letterOf(sight.batch.members.length - 1, sight.plan).label.length)),
    cell(member.place.position, widths.position),
    cell(member.serial, widths.serial),
    state.padEnd(widths.state),
  ];
  const before = cells.join("  ");
  const room = sight.size.columns - 4 - widthOf(before) - 2;
  const text = `${before}  ${cell(detailOf(sight, index, room), room)}`.trimEnd();
  const loud = movesNow(sight.batch, index) || sight.desk.picked === index;
  return asRow(text, loud ? "strong" : "plain");
};

const cell = (words: string, width: number): string => padded(cut(safeText(words), width), width);

/** While it soaks its sensors, where it has any. Of a simulated fixture that moves: where it is. Else what was seen of it, the latest first. */
const detailOf = (sight: RackSight, index: number, room: number): string => {
  const { batch, seen } = sight;
  const { stage } = batch;
  const member = memberAt(batch, index);
  const shown = seen[index];
  if (stage.kind === "moving" && stepOf(batch, stage.next).routine === "soak") {
    const brief = sensorsInBrief(member.session.view);
    if (brief !== "") return brief;
  }
  if (shown && stage.kind === "moving" && stage.next.members.includes(index))
    return showing(sight, member, shown, room);
  const symptoms = member.session.view.steps.flatMap(({ judged }) => judged?.symptoms ?? []).toReversed();
  if (symptoms.length > 0) return [...new Set(symptoms.map(symptomInWords))].join("; ");
  return pressedFor(member);
};

const pressedFor = ({ session }: Member): string => {
  const pressed = session.view.steps.flatMap(({ presses }, index) =>
    presses.length > 0 ? [functionsInWords(stepAt(session.job, index))] : [],
  );
  return pressed.length > 0 ? `pressed: ${[...new Set(pressed)].join(", ")}` : "";
};

const LEAST_STRIP = 8;

/** A strip of its travel with where it stands, and what it sounds like. */
const showing = ({ batch, frame }: RackSight, { spot, session }: Member, shown: Spectacle, room: number): string => {
  if (batch.stage.kind !== "moving") return "";
  const step = stepOf(batch, batch.stage.next);
  const id = step.functions[0] ?? "Pan";
  const part = shown.parts.find((one) => one.function === id);
  const sound = shown.sounds[0];
  const words = sound === undefined ? (part?.words ?? "") : sound.replace(/^[^:]*: /, "");
  const width = Math.max(LEAST_STRIP, room - 14);
  const told = toldPlace(spot.profile, stepAt(session.job, batch.stage.next.index), id, frame);
  const at = part && { share: part.share - (part.share > 1 || part.share < 0 ? Math.floor(part.share) : 0), words: "" };
  return `[${stripOf({ told, seen: at }, width)}] ${words}`;
};
