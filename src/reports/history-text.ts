import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { sayLook, sayOf } from "../diagnosis/model/reasons.ts";
import { entriesOf } from "../domain/keys.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { cleaning } from "../domain/trade/cleanings.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { RESULTS, ROUTINES, type StepResult } from "../domain/trade/routines.ts";
import { symptomWords } from "../domain/trade/symptoms.ts";
import type { ReportedSymptom } from "../run/events/event.ts";
import type { Counted, FixtureHistory, FunctionPast, PastRun, PastStep } from "../run/memory/history.ts";
import type { Return } from "../run/memory/past-troubles.ts";
import { STATE_WORDS, VERDICT_WORDS, verdictInWords, verdictOf } from "../run/release/release-status.ts";
import { COUNTER_NAMES, COUNTER_WORDS } from "../wire/rdm/fixture.ts";
import { decisionInWords, readingInWords } from "./by-hand-words.ts";
import { ENDED } from "./job-sheet-text.ts";
import { hoursInWords, many, STATE_CAUTION } from "./status-words.ts";
import { hanging, wrapped } from "./wrap.ts";

const WIDTH = 78;

/** The history of a fixture in words, for a terminal or a printer; every text from outside is made harmless. */
export const tellHistory = (history: FixtureHistory): string =>
  [
    `History: ${safeText(history.serial)}, ${safeText(history.profile)}`,
    ...standingLines(history),
    ...(history.simulated ? ["SIMULATED: a simulated fixture, not a real one."] : []),
    ...section(
      "Came back",
      history.returns.flatMap((one) => hanging("  - ", tellReturn(one), WIDTH)),
    ),
    ...section("Run by run, oldest first", history.runs.flatMap(tellRun)),
    ...section("Function by function, oldest run first", history.functions.flatMap(tellFunction)),
    ...section(
      "What it counted, as it says itself",
      history.counted.flatMap((one) => hanging(`  ${one.at.slice(0, 10)}  `, countedInWords(one), WIDTH)),
    ),
    ...section(
      "Seen most often",
      history.symptoms.flatMap((one) =>
        hanging(`  ${many(one.runs.length, "run").padEnd(9)} `, sayReported(one), WIDTH),
      ),
    ),
    ...section(
      "Parts that the faults found take",
      history.parts.flatMap(({ part, fault, at }) =>
        hanging(`  ${at.slice(0, 10)}  `, `${part} (${knownFault(fault).title})`, WIDTH),
      ),
    ),
    "",
    ...wrapped(STATE_CAUTION, WIDTH),
  ].join("\n");

const countedInWords = ({ counters, backwards }: Counted): string => {
  const told = COUNTER_NAMES.flatMap((name) =>
    counters[name] === undefined ? [] : [`${COUNTER_WORDS[name]} ${counters[name]}`],
  );
  const back = backwards.map((name) => COUNTER_WORDS[name]).join(" and ");
  return `${told.join(", ")}${back === "" ? "" : `; ${back} lower than before: was a board changed, or were they set back?`}`;
};

const MOST_REASONS = 5;
const standingLines = ({ runs, standing }: FixtureHistory): readonly string[] => {
  const { state, reasons } = standing;
  const verdict = verdictOf(standing);
  const more = reasons.length - MOST_REASONS;
  return [
    ...hanging("", safeText(verdictInWords(verdict)), WIDTH),
    `${many(runs.length, "run")}${STATE_WORDS[state] === VERDICT_WORDS[verdict.kind] ? "" : `; ${STATE_WORDS[state]}`}.`,
    ...section("Still to do before sign-off", [
      ...reasons.slice(0, MOST_REASONS).flatMap(({ words }) => hanging("  - ", safeText(words), WIDTH)),
      ...(more > 0 ? [`  and ${more} more`] : []),
    ]),
  ];
};

const section = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : ["", title, ...lines];

const tellReturn = (one: Return): string =>
  `${one.kind === "fault" ? knownFault(one.fault).title : sayReported(one)}: again after ${hoursInWords(one.hours)} (runs ${safeText(one.first)} and ${safeText(one.again)})`;

const tellRun = (run: PastRun): readonly string[] => [
  ...hanging(`  ${run.at.slice(0, 16).replace("T", " ")}  `, runInWords(run), WIDTH),
  ...run.wrong.flatMap((step) => hanging(`    ${RESULTS[step.result].padEnd(14)}`, stepInWords(step), WIDTH)),
  ...run.looks.flatMap(({ inspection, answer, note }) =>
    hanging("    inspected     ", joined([sayLook(inspection, answer), note]), WIDTH),
  ),
  ...run.finds.flatMap((find) => hanging("    found         ", joined([findInWords(find), find.note]), WIDTH)),
  ...run.repairs.flatMap((repair) => hanging("    repaired      ", repairInWords(repair), WIDTH)),
  ...run.readings.flatMap((one) => hanging("    measured      ", safeText(readingInWords(one)), WIDTH)),
  ...cleaningLine(run),
  ...run.decisions.flatMap((one) => hanging("    decided       ", safeText(decisionInWords(one)), WIDTH)),
  ...(run.doubt === undefined ? [] : hanging("    remark        ", run.doubt, WIDTH)),
];

/** "cleaned: dust, front lens; left out: colour flags". */
const cleaningLine = ({ cleanings }: PastRun): readonly string[] => {
  const words = CLEANED.flatMap(([done, mark]) => {
    const these = cleanings.filter((one) => one.done === done).map((one) => cleaning(one.cleaning).what);
    return these.length > 0 ? [`${mark}: ${these.join(", ")}`] : [];
  });
  return words.length > 0 ? hanging("    cleaning      ", words.join("; "), WIDTH) : [];
};
const CLEANED = [
  ["done", "done"],
  ["not-needed", "not needed"],
  ["left-out", "left out"],
] as const;

const runInWords = (run: PastRun): string =>
  [
    ...(run.hoursSince === undefined ? [] : [`${hoursInWords(run.hoursSince)} later`]),
    run.replays === undefined
      ? safeText(run.sequence)
      : `${safeText(run.sequence)} again, after run ${safeText(run.replays)}`,
    ENDED[run.ended],
    countsInWords(run.counts),
    `${Math.round(run.minutes)} min`,
    safeText([run.person, run.bench].filter(Boolean).join(" at ")),
    `run ${safeText(run.run)}`,
  ].join("; ");

const countsInWords = (counts: PastRun["counts"]): string =>
  entriesOf(counts)
    .map(([result, count]) => `${count} ${RESULTS[result]}`)
    .join(", ");

const stepInWords = ({ functions, routine, symptoms, note }: PastStep): string =>
  joined([
    `${functions.map(functionWords).join(", ") || "whole fixture"}: ${ROUTINES[routine].words}`,
    ...symptoms.map(sayReported),
    note,
  ]);

const sayReported = ({ symptom, function: id }: ReportedSymptom): string =>
  id === undefined ? symptomWords(symptom) : sayOf([functionWords(id)], symptom);

const findInWords = (find: PastRun["finds"][number]): string => {
  if (find.what === "fault") return knownFault(find.fault).title;
  return find.what === "nothing" ? "no fault" : "something else";
};

const repairInWords = (repair: PastRun["repairs"][number]): string => {
  const mended = repair.what === "fault" ? knownFault(repair.fault).title : "something else";
  return joined([mended, repair.part, `${repair.minutes} min`, repair.initials, repair.note]);
};

const joined = (parts: readonly string[]): string => parts.filter(Boolean).map(safeText).join("; ");

/** "fail, 3 pass, unsure": neighbours that are alike stand together. */
const tellFunction = ({ function: id, results }: FunctionPast): readonly string[] => {
  const spans: { readonly worst: StepResult; count: number }[] = [];
  for (const { worst } of results) {
    const last = spans.at(-1);
    if (last?.worst === worst) last.count += 1;
    else spans.push({ worst, count: 1 });
  }
  const words = spans
    .map(({ worst, count }) => (count === 1 ? RESULTS[worst] : `${count} ${RESULTS[worst]}`))
    .join(", ");
  return hanging(`  ${(id === "fixture" ? "whole fixture" : functionWords(id)).padEnd(24)}`, words, WIDTH);
};
