import { stringify } from "csv-stringify/sync";
import type { RunSummary, SummaryStep } from "../run/events/summary.ts";
import type { Stock } from "../run/memory/stock.ts";
import { EXPORT_VERSION } from "./export-schema.ts";
import type { JobSheet } from "./job-sheet.ts";
import type { RackSheet } from "./rack-sheet.ts";

/**
 * A table for other programs: comma separated, quoted where needed (RFC 4180), with a heading. A cell that a spreadsheet
 * would take for a formula gets an apostrophe before it, so that nothing in it runs (OWASP, CSV injection).
 */
export const csvOf = (columns: readonly string[], rows: readonly (readonly (string | number)[])[]): string =>
  stringify([[...columns], ...rows.map((row) => [...row])], { escape_formulas: true, record_delimiter: "\r\n" });

/** Every fixture of a rack run as a table, one row each. */
export const rackCsv = ({ run: rackRun, fixtures }: RackSheet): string =>
  csvOf(
    ["rack run", "serial", "place", "state", "symptoms", "may be", "run"],
    fixtures.map(({ serial, place, state, symptoms, mayBe, run }) => [
      rackRun,
      serial,
      place,
      state,
      symptoms.join("; "),
      mayBe ?? "",
      run,
    ]),
  );

const STOCK_COLUMNS = ["serial", "profile", "state", "runs", "last run", "at", "faults found", "parts wanted"];

/** Every fixture of the stock as a table, one row each. */
export const stockCsv = ({ fixtures, faults, parts }: Stock): string =>
  csvOf(
    STOCK_COLUMNS,
    fixtures.map(({ serial, profile, state, runs, run, at }) => [
      serial,
      profile,
      state,
      runs,
      run,
      at,
      faults.flatMap(({ fault, serials }) => (serials.includes(serial) ? [fault] : [])).join("; "),
      parts
        .flatMap(({ part, fixtures: waiting }) => (waiting.some((one) => one.serial === serial) ? [part] : []))
        .join("; "),
    ]),
  );

const STEP_COLUMNS = [
  "serial",
  "run",
  "begun",
  "step",
  "function",
  "routine",
  "result",
  "symptoms",
  "presses",
  "rig",
  "note",
];

/** The steps of a job sheet as a table, one row each. */
export const jobSheetCsv = ({ fixture, run, begun, steps }: JobSheet): string =>
  csvOf(
    STEP_COLUMNS,
    steps.map((step) => [
      fixture.serial,
      run,
      begun,
      step.id,
      step.function,
      step.routine,
      step.result,
      step.symptoms.map(({ id, function: on }) => (on === undefined ? id : `${on} ${id}`)).join("; "),
      step.presses,
      step.rig,
      step.note,
    ]),
  );

const RUN_COLUMNS = ["serial", "profile", "run", "at", "bench", "person", "sequence", "simulated", "replays"] as const;
const ITEM_COLUMNS = [
  "what",
  "of",
  "functions",
  "routine",
  "result",
  "symptoms",
  "presses",
  "value",
  "unit",
  "minutes",
  "initials",
  "when",
  "photo",
  "export",
  "note",
] as const;
/** A row says only what there is of it. */
type Item = Readonly<Partial<Record<(typeof ITEM_COLUMNS)[number], string | number>>>;

/** All that is known of all runs as one table: a row for every step, inspection, find, repair, measurement, cleaning, photo and decision. */
export const exportCsv = (runs: readonly RunSummary[]): string =>
  csvOf([...RUN_COLUMNS, ...ITEM_COLUMNS], runs.flatMap(rowsOf));

const rowsOf = (run: RunSummary): readonly (readonly (string | number)[])[] =>
  itemsOf(run).map((item) => [
    ...RUN_COLUMNS.map((column) => String(run[column] ?? "")),
    ...ITEM_COLUMNS.map((column) => (column === "export" ? EXPORT_VERSION : (item[column] ?? ""))),
  ]);

const itemsOf = (run: RunSummary): readonly Item[] => [
  ...run.steps.map(stepItem),
  ...lookedAtAndRepaired(run),
  ...measuredAndCleaned(run),
  ...run.photos.map(({ file, of, person, at }) => ({
    what: "photo",
    of: photoOf(of),
    initials: person,
    when: at,
    photo: file,
  })),
  ...run.decisions.map((one) => ({
    what: "decision",
    of: one.kind,
    result: one.initials,
    initials: one.initials,
    when: one.at,
    note: one.note,
  })),
];

const lookedAtAndRepaired = (run: RunSummary): readonly Item[] => [
  ...run.looks.map(({ inspection, answer, note, photo = "", at, person }) => ({
    what: "look",
    of: inspection,
    result: answer,
    initials: person,
    when: at,
    photo,
    note,
  })),
  ...run.finds.map((find) => ({
    what: "find",
    of: whatOf(find),
    initials: find.person,
    when: find.at,
    note: find.note,
  })),
  ...run.repairs.map((repair) => ({
    what: "repair",
    of: whatOf(repair),
    result: repair.part,
    minutes: repair.minutes,
    initials: repair.initials,
    when: repair.at,
    note: repair.note,
  })),
];

const measuredAndCleaned = (run: RunSummary): readonly Item[] => [
  ...run.readings.map((one) => ({
    what: "measurement",
    of: one.reading,
    result: measuredCell(one),
    value: one.value ?? "",
    unit: one.unit,
    initials: one.initials,
    when: one.at,
    note: one.note,
  })),
  ...run.cleanings.map(({ cleaning, done, note, at, person }) => ({
    what: "cleaning",
    of: cleaning,
    result: done,
    initials: person,
    when: at,
    note,
  })),
];

/** "within 0.08 ohm EE": what it was called, the value where there is one, who took it. */
const measuredCell = ({ verdict, value, unit, initials }: RunSummary["readings"][number]): string =>
  [verdict, value === undefined ? "" : `${value} ${unit}`.trim(), initials].filter(Boolean).join(" ");

const whatOf = (one: RunSummary["finds"][number] | RunSummary["repairs"][number]): string =>
  one.what === "fault" ? one.fault : one.what;

/** "step pan-1", "look belt", "repair tilt-belt-slack", "fault", "fixture". */
const photoOf = (of: RunSummary["photos"][number]["of"]): string => {
  switch (of.what) {
    case "step":
      return `step ${of.step}`;
    case "look":
      return `look ${of.inspection}`;
    case "cleaning":
      return `cleaning ${of.cleaning}`;
    case "repair":
      return of.fault === undefined ? "repair" : `repair ${of.fault}`;
    default:
      return of.what;
  }
};

const stepItem = (step: SummaryStep): Item => ({
  what: "step",
  of: step.id,
  functions: step.functions.join("+") || "fixture",
  routine: step.routine,
  result: step.result,
  symptoms: step.symptoms
    .map(({ symptom, function: id }) => (id === undefined ? symptom : `${id} ${symptom}`))
    .join("; "),
  presses: step.presses,
  note: step.note,
});
