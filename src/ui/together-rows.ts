import {
  CLEANING_CAUTIONS,
  cleaning,
  DIRT,
  DIRT_IDS,
  type DirtId,
  effortOf,
  PAD_RULES,
} from "../domain/trade/cleanings.ts";
import { inspection, lookReason } from "../domain/trade/inspections.ts";
import { padsInWords } from "../reports/hand-work.ts";

import { cleaningAhead, dirtIn, isDirtOpen, isWiped } from "../run/session/by-hand/cleaning.ts";
import type { TaskOf } from "../run/session/by-hand/task.ts";
import type { Session } from "../run/session/session.ts";
import { undoWords } from "./foot-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { AloneSight } from "./sight.ts";
import { BLANK, capital, type Line, marked, option, said } from "./view.ts";

/** The page of the inspections under one cover: what good looks like is beside each, and what is not good has its digit. */
export const looksRows = (sight: AloneSight, { inspections, more }: TaskOf<"looks">): readonly Line[] => {
  const { plan } = sight;
  const minutes = inspections.reduce((sum, id) => sum + inspection(id).minutes, 0);
  return [
    ...inspections.map((id, at) => option(at + 1, `${inspection(id).look}: ${inspection(id).good}`)),
    BLANK,
    ...reasonsIn(inspections),
    ...said(
      `About ${Math.max(1, Math.round(minutes))} min.${more > 0 ? ` ${more} more under this cover.` : ""}`,
      "faint",
      1,
    ),
    ...said("First type the number of each that is not good or not inspected.", "strong"),
    ...said(`${keyWords(plan.letters.good)}: I inspected all of these. They are good.`, "strong"),
    ...said(`Stop it all: ${anyOf(plan.stop)}.${undoWords(sight)}`),
  ];
};

/** Each reason once, however many looks have it. */
const reasonsIn = (inspections: TaskOf<"looks">["inspections"]): readonly Line[] => {
  const reasons = new Map<string, string[]>();
  for (const [at, id] of inspections.entries())
    if (lookReason(id) !== "") reasons.set(lookReason(id), [...(reasons.get(lookReason(id)) ?? []), String(at + 1)]);
  return [...reasons].flatMap(([reason, digits]) => said(`${digits.join(", ")}: ${reason}.`, "faint"));
};

/** The question how dirty the fixture is, asked once: pads and minutes depend on it. */
export const dirtRows = (sight: AloneSight): readonly Line[] => [
  ...DIRT_CHOICES,
  BLANK,
  ...PAD_RULES.map((words) => marked("- ", words, "plain", 1)),
  ...said(`Type its number. Stop it all: ${anyOf(sight.plan.stop)}.${undoWords(sight)}`, "strong"),
];

const DIRT_CHOICES: readonly Line[] = DIRT_IDS.map((id, at) =>
  option(at + 1, `${DIRT[id].words}${DIRT[id].said === "" ? "" : `: ${DIRT[id].said}`}`, "strong"),
);

/** The page while it soaks and nobody has to watch: what is asked on paper, then what to get ready. */
export const soakRows = (sight: AloneSight): readonly Line[] => {
  const { session } = sight;
  const dirt = dirtIn(session);
  if (dirt === undefined)
    return isDirtOpen(session) ? [...said("While it soaks: how dirty is it? Type the number:"), ...DIRT_CHOICES] : [];
  const ahead = cleaningAhead(session);
  if (ahead.length === 0) return [];
  const pads = ahead.reduce((sum, id) => sum + effortOf(id, dirt).pads, 0);
  return [
    ...said(
      `While it soaks: get ready for cleaning (${howDirty(session, dirt)}): ${padsInWords(pads)} from a sealed pack, fluid, vacuum, soft brush, torch, gloves.`,
    ),
    ...said(`Pads: ${PAD_RULES.join("; ")}.`),
  ];
};

/** How dirty the fixture is, in words; "Dust only, as the last time" until somebody has said otherwise in this run. */
export const howDirty = ({ view }: Session, dirt: DirtId): string =>
  view.dirt === undefined ? `${DIRT[dirt].words}, as the last time` : DIRT[dirt].words;

/** The page of all that is to be cleaned, in the order of work. */
export const cleansRows = (sight: AloneSight, task: TaskOf<"cleans">): readonly Line[] => {
  const { plan, session } = sight;
  const wiped = task.cleanings.filter((id) => isWiped(session, task, id));
  const minutes = wiped.reduce((sum, id) => sum + effortOf(id, task.dirt).minutes, 0);
  const pads = wiped.reduce((sum, id) => sum + effortOf(id, task.dirt).pads, 0);
  return [
    ...task.cleanings.map((id, at) => option(at + 1, lineOf(task, id, wiped.includes(id)))),
    ...said(
      `${padsInWords(pads)} in all, about ${minutes} min. Wipe from edge to edge with a damp pad, always the same way, then with a dry one. Fluid goes on the pad, not on the glass.`,
    ),
    ...CLEANING_CAUTIONS.map((words) => marked("! ", words, "plain", 1)),
    ...said(
      wiped.length < task.cleanings.length
        ? "First type the number of what shows a film and is wiped, or of what is left out."
        : "First type the number of what is left out.",
      "strong",
    ),
    ...said(`${keyWords(plan.letters.good)}: all of this is done.`, "strong"),
    ...said(`${capital(howDirty(session, task.dirt))}. Dirty in another way: ${anyOf(plan.again)}.`),
    ...said(`Stop it all: ${anyOf(plan.stop)}.${undoWords(sight)}`),
  ];
};

const lineOf = ({ dirt }: TaskOf<"cleans">, id: TaskOf<"cleans">["cleanings"][number], wiped: boolean): string => {
  const { what } = cleaning(id);
  const { pads, minutes } = effortOf(id, dirt);
  if (!wiped) return `${what}: inspected by torch, no film`;
  return `${what}: ${pads === 0 ? "vacuum, soft brush" : padsInWords(pads)}, ${minutes} min`;
};
