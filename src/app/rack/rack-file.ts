import { parseBench } from "../../data/bench/bench.ts";
import { type MovedAnswer, reallySet, wrongInFile } from "../../data/rack/addresses.ts";
import { rackFromTable } from "../../data/rack/from-table.ts";
import type { RackDraft } from "../../data/rack/parse.ts";
import { planStarts } from "../../data/rack/power.ts";
import { placeInWords, type Rack, type RackFixture, startInWords } from "../../data/rack/rack.ts";
import { readingsFromTable } from "../../data/rack/readings.ts";
import { type Edit, editedText } from "../../data/rack/write.ts";
import { bad, good, hintFor, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { readBytes, replaceFile } from "../../io/files/outside.ts";
import { rackInWords, startsInWords } from "../../reports/rack.ts";
import { type ReadingsChart, readingsCharts } from "../../reports/rack-readings.ts";
import { chartsText } from "../../reports/rack-readings-text.ts";
import { letterOf } from "../../ui/fixture-keys.ts";
import { keyPlan } from "../../ui/key-plan.ts";
import { load } from "../common/data.ts";
import { complain, deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { draftFrom, loadDraft, loadRack, profilesOn, rackNameFrom } from "./rack-data.ts";

/** Says everything that is wrong with a rack file at once; or what the rack loads its lines and circuits with, and how to switch it on. */
export const checkRackFile = (name: string): ExitCode => {
  const rack = loadRack(fileLibrary(), name);
  if (!rack.ok) return refuse(rack.problems);
  const { value } = rack.value;
  print([...rackInWords(value), "", ...startsInWords(planStarts(value))].map(safeText).join("\n"));
  return EXIT.done;
};

const MOST_BYTES = 1_000_000;

/** Makes a rack file of a table. What cannot be in a table is filled in as the simulated bench has it, and says so. */
export const importRack = (file: string, out: string | undefined): ExitCode => {
  const read = readBytes(file, MOST_BYTES);
  if (read.kind === "unread") return refuse([problem(file, read.why)]);
  const text = new TextDecoder().decode(read.bytes);
  const made = rackFromTable(file, text, rackNameFrom(out ?? file), profilesOn(fileLibrary()));
  return made.ok ? deliver(made.value, out) : refuse(made.problems);
};

/** A strip for each fixture, to be cut out and taped on: its letter is the same in the whole run. */
export const rackLetters = (name: string, benchName: string): ExitCode => {
  const draft = loadDraft(fileLibrary(), name);
  const bench = load(fileLibrary(), "benches", benchName, parseBench);
  if (!draft.ok) return refuse(draft.problems);
  if (!bench.ok) return refuse(bench.problems);
  const plan = keyPlan(bench.value.value.buttons);
  for (const [index, { serial, place }] of draft.value.value.rack.fixtures.entries())
    print(`${LINE}\n  ${letterOf(index, plan).label.padEnd(4)}${safeText(serial)}, ${safeText(placeInWords(place))}`);
  print(LINE);
  return EXIT.done;
};

const LINE = "-".repeat(60);

/**
 * Works out from who really moved when one after the other was asked to which addresses are really set;
 * writes them into the file when told to.
 */
export const correctRack = (name: string, said: readonly string[], deliver: "print" | "write"): ExitCode => {
  const draft = loadDraft(fileLibrary(), name);
  if (!draft.ok) return refuse(draft.problems);
  const { rack } = draft.value.value;
  const answers = said.map(answerFrom);
  const strangers = answers.flatMap((answer) => strangersIn(rack, answer));
  if (strangers.length > 0) return refuse(strangers);
  const really = reallySet(rack, answers);
  const wrong = wrongInFile(rack, really);
  for (const words of [...really.open, ...wrong]) print(safeText(words));
  if (really.open.length > 0 || wrong.length === 0) {
    print(really.open.length > 0 ? "Nothing is written while this is open." : "The file is right.");
    return EXIT.done;
  }
  return deliver === "write" ? writeAddresses(draft.value.value, really.fixtures) : EXIT.done;
};

/** "A=B": A was asked and B moved; "A=": nothing did; "A=A,B": both. */
const answerFrom = (text: string): MovedAnswer => {
  const [asked = "", moved = ""] = text.split("=", 2);
  return { asked, moved: moved.split(",").filter((serial) => serial !== "") };
};

const strangersIn = ({ fixtures }: Rack, { asked, moved }: MovedAnswer): readonly Problem[] => {
  const known = fixtures.map(({ serial }) => serial);
  return [asked, ...moved]
    .filter((serial) => !known.includes(serial))
    .map((serial) => problem(serial, "there is no such fixture in this rack", hintFor(serial, known)));
};

/** Writes the addresses of these fixtures, one for each of the file in its order, into the rack file and changes nothing else. */
export const writeAddresses = (draft: RackDraft, fixtures: readonly RackFixture[]): ExitCode => {
  const text = textWith(draft, fixtures);
  if (!text.ok) return refuse(text.problems);
  const trouble = replaceFile(draft.file.source, text.value);
  if (trouble !== undefined) {
    complain(`${safeText(draft.file.source)}: ${safeText(trouble)}`);
    return EXIT.world;
  }
  print(`\nWritten into ${safeText(draft.file.source)}.`);
  return EXIT.done;
};

/** The file's new text; read once more before it may take the place of the old one. */
const textWith = ({ file }: RackDraft, fixtures: readonly RackFixture[]): Result<string> => {
  const edits = fixtures.flatMap(({ start }, entry): readonly Edit[] =>
    start
      ? [
          { entry, key: "universe", value: start.universe },
          { entry, key: "address", value: start.slot },
        ]
      : [],
  );
  const text = editedText(file.text, edits);
  const again = draftFrom(fileLibrary(), file.source, text);
  const wrong = fixtures.find(
    (fixture, index) =>
      !again.ok || startInWords(again.value.rack.fixtures[index]?.start) !== startInWords(fixture.start),
  );
  return wrong
    ? bad(
        problem(file.source, `${wrong.serial} is written in a way that cannot be changed from here`, "set it by hand"),
      )
    : good(text);
};

export interface ReadingsOptions {
  readonly as: "text" | "json" | "html";
  readonly out: string | undefined;
}

/** Shows readings of a rack side by side and names the odd ones. */
export const showReadings = async (name: string, table: string, { as, out }: ReadingsOptions): Promise<ExitCode> => {
  const draft = loadDraft(fileLibrary(), name);
  if (!draft.ok) return refuse(draft.problems);
  const read = readBytes(table, MOST_BYTES);
  if (read.kind === "unread") return refuse([problem(table, read.why)]);
  const readings = readingsFromTable(table, new TextDecoder().decode(read.bytes), draft.value.value.rack);
  if (!readings.ok) return refuse(readings.problems);
  const charts = readingsCharts(readings.value);
  return deliver(await readingsInForm(draft.value.value.rack.title, charts, as), out);
};

const readingsInForm = async (
  title: string,
  charts: readonly ReadingsChart[],
  form: ReadingsOptions["as"],
): Promise<string> => {
  switch (form) {
    case "json":
      return JSON.stringify(charts, undefined, 2);
    case "html":
      return (await import("../../reports/page/rack-page.ts")).readingsPage(title, charts);
    case "text":
      return charts.length > 0 ? chartsText(charts).map(safeText).join("\n") : "No readings in this table.";
    default:
      return form satisfies never;
  }
};
