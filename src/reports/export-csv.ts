import type { BriefStep, RunBrief } from "../run/events/brief.ts";
import { csvOf } from "./csv.ts";

const RUN_COLUMNS = ["serial", "profile", "run", "at", "bench", "person", "sequence", "simulated", "replays"] as const;
const COLUMNS = [...RUN_COLUMNS, "what", "of", "functions", "routine", "result", "symptoms", "presses", "note"];

/** All that is known of all runs as one table: a row for every step, inspection, find, repair, measurement, cleaning and decision. */
export const exportCsv = (runs: readonly RunBrief[]): string => csvOf(COLUMNS, runs.flatMap(rowsOf));

const rowsOf = (run: RunBrief): readonly (readonly (string | number)[])[] =>
  [
    ...run.steps.map(stepCells),
    ...run.looks.map(({ inspection, answer, note }) => ["look", inspection, "", "", answer, "", "", note]),
    ...run.finds.map((find) => ["find", whatOf(find), "", "", "", "", "", find.note]),
    ...run.repairs.map((repair) => ["repair", whatOf(repair), "", "", repair.part, "", "", repair.note]),
    ...run.readings.map((one) => ["measurement", one.reading, "", "", measuredCell(one), "", "", one.note]),
    ...run.cleanings.map(({ cleaning, done, note }) => ["cleaning", cleaning, "", "", done, "", "", note]),
    ...run.decisions.map((one) => ["decision", one.kind, "", "", one.initials, "", "", one.note]),
  ].map((cells) => [...RUN_COLUMNS.map((column) => String(run[column] ?? "")), ...cells]);

/** "within 0.08 ohm EE": what it was called, the value where there is one, who took it. */
const measuredCell = ({ verdict, value, unit, initials }: RunBrief["readings"][number]): string =>
  [verdict, value === undefined ? "" : `${value} ${unit}`.trim(), initials].filter(Boolean).join(" ");

const whatOf = (one: RunBrief["finds"][number] | RunBrief["repairs"][number]): string =>
  one.what === "fault" ? one.fault : one.what;

const stepCells = (step: BriefStep): readonly (string | number)[] => [
  "step",
  step.id,
  step.functions.join("+") || "fixture",
  step.routine,
  step.result,
  step.symptoms.map(({ symptom, function: id }) => (id === undefined ? symptom : `${id} ${symptom}`)).join("; "),
  step.presses,
  step.note,
];
