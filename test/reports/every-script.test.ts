import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import stringWidth from "string-width";
import { describe, expect, test } from "vitest";
import { planStarts } from "../../src/data/rack/power.ts";
import type { Rack } from "../../src/data/rack/rack.ts";
import { boardLines, boardPage, boardTitle } from "../../src/reports/board.ts";
import { doctorText } from "../../src/reports/doctor.ts";
import { sensorsDrawn } from "../../src/reports/fixture-said.ts";
import { tellHistory } from "../../src/reports/history-text.ts";
import { tellJobSheet } from "../../src/reports/job-sheet-text.ts";
import { labelOf, labelPage } from "../../src/reports/label.ts";
import { nextInWords } from "../../src/reports/next-words.ts";
import { historyPage } from "../../src/reports/page/history-page.ts";
import { jobSheetPage } from "../../src/reports/page/job-sheet-page.ts";
import { rackPage, readingsPage } from "../../src/reports/page/rack-page.ts";
import { overviewPage, stockPage } from "../../src/reports/page/stock-page.ts";
import { addressList, rackInWords, startsInWords } from "../../src/reports/rack.ts";
import type { ReadingsChart } from "../../src/reports/rack-readings.ts";
import { chartsText } from "../../src/reports/rack-readings-text.ts";
import { tellRackPlan, tellRackSheet } from "../../src/reports/rack-sheet.ts";
import { rackFromFound, readingText, rosterText } from "../../src/reports/rdm-text.ts";
import { releaseStatusInWords } from "../../src/reports/status-words.ts";
import { tellStock } from "../../src/reports/stock-text.ts";
import { exportCsv, jobSheetCsv, rackCsv, stockCsv } from "../../src/reports/tables.ts";
import { fittedText } from "../../src/reports/wrap.ts";
import { boardOf } from "../../src/run/memory/board.ts";
import type { FixtureIdentity } from "../../src/wire/rdm/identity.ts";
import { charactersIn, cutCharacters, SCRIPTS } from "../kit/hostile.ts";
import { shippedProfile, shippedRack } from "../kit/shipped.ts";
import { briefFrom, foundBody, type Happened, standingFrom, standingsFrom } from "../run/memory/happened.ts";
import { hostileRack, usualReadings } from "./racks.ts";
import { hostileSheet } from "./sheets.ts";
import { hostileHistory, hostileStock } from "./stocks.ts";

/**
 * Everything that is told, printed or written, with names in every kind of writing: it fits its width, no character is cut
 * in two, and nothing beside a name changes places with it.
 */

const COLUMNS = 80;
const LABEL_COLUMNS = 24;
const TODAY = "2026-12-01";

/** What one form makes of a text that stands wherever somebody may write one. */
type Form =
  /** Lines for a terminal; `cuts`: where there is no room it shows by dots that something was left out. */
  | { readonly kind: "lines"; readonly columns: number; readonly cuts?: true; readonly of: (text: string) => string }
  | { readonly kind: "page"; readonly of: (text: string) => string }
  | { readonly kind: "table"; readonly of: (text: string) => string }
  | { readonly kind: "file"; readonly of: (text: string) => string };

const lines = (of: (text: string) => string | readonly string[]): Form => ({
  kind: "lines",
  columns: COLUMNS,
  of: (text) => [of(text)].flat().join("\n"),
});
const cutting = (of: (text: string) => readonly string[], columns = COLUMNS): Form => ({
  kind: "lines",
  columns,
  cuts: true,
  of: (text) => of(text).join("\n"),
});

const five = (text: string): readonly string[] => Array.from({ length: 5 }, () => text);
const happened = (text: string): Happened => ({
  run: "r1",
  serial: text,
  bench: text,
  person: text,
  profile: text,
  at: `${TODAY}T08:00:00.000Z`,
  steps: [{ of: "Pan", result: "fail", note: text }],
  after: [foundBody("pan-belt-slack", text)],
});
const board = (text: string) =>
  boardOf(
    { kind: "hire", hire: text },
    {
      runs: [briefFrom(happened(text))],
      standings: standingsFrom(happened(text)),
      expected: [text],
      simulated: false,
    },
  );
const rack = (text: string): Rack => {
  const shipped = shippedRack("two-universes");
  const fixtures = shipped.fixtures.map((one) => ({ ...one, serial: text, place: { shelf: text, position: text } }));
  return { ...shipped, title: text, fixtures };
};
const identity = (text: string): FixtureIdentity => ({
  uid: "7FF0:00000002",
  maker: text,
  model: text,
  label: text,
  software: text,
  serial: text,
  address: 1,
  mode: { number: 1, count: 2, name: text, slots: 30 },
  sensors: 0,
  supported: [],
  troubles: [`${text} was not read.`],
});
const chart = (text: string): ReadingsChart => {
  const [usual] = usualReadings();
  if (!usual) throw new Error("no chart");
  return { ...usual, kind: text, said: [text], rows: usual.rows.map((row) => ({ ...row, serial: text })) };
};
/** A diagnosis takes a moment: once for each text. */
const sheets = new Map<string, ReturnType<typeof hostileSheet>>();
const sheet = (text: string) => {
  const made = sheets.get(text) ?? hostileSheet(five(text));
  sheets.set(text, made);
  return made;
};
const label = (text: string) => ({ serial: text, verdict: "released", level: text, due: text, simulated: false });
const followed = (text: string) => {
  const said = { sensors: [{ number: 0, name: text, unit: "C" }] };
  const values = [30, 40].map((value, at) => ({ lit_min: at, values: [{ number: 0, value }] }));
  return sensorsDrawn(said as never, values as never);
};

const FORMS: Readonly<Record<string, Form>> = {
  addressList: lines((text) => addressList(rack(text), rack(text).fixtures).flat()),
  boardLines: cutting((text) => boardLines(board(text), COLUMNS)),
  boardTitle: lines((text) => boardTitle(board(text))),
  boardPage: { kind: "page", of: (text) => boardPage(board(text)) },
  doctorText: lines((text) =>
    doctorText([{ about: text, state: "trouble", found: text, todo: text }] as never, COLUMNS),
  ),
  exportCsv: { kind: "table", of: (text) => exportCsv([briefFrom(happened(text))]) },
  sensorsDrawn: lines(followed),
  tellHistory: lines((text) => tellHistory(hostileHistory(five(text)))),
  historyPage: { kind: "page", of: (text) => historyPage(hostileHistory(five(text))) },
  jobSheetCsv: { kind: "table", of: (text) => jobSheetCsv(sheet(text)) },
  tellJobSheet: lines((text) => tellJobSheet(sheet(text))),
  jobSheetPage: { kind: "page", of: (text) => jobSheetPage(sheet(text)) },
  labelOf: cutting((text) => labelOf(sheet(text)), LABEL_COLUMNS),
  labelPage: { kind: "page", of: (text) => labelPage([label(text)], "62x29") },
  nextInWords: lines((text) => nextInWords(text, [{ rule: "played", words: text } as never])),
  overviewPage: { kind: "page", of: (text) => overviewPage(hostileStock([text]), `${TODAY}T08:00:00.000Z`) },
  rackPage: { kind: "page", of: (text) => rackPage(hostileRack([text])) },
  readingsPage: { kind: "page", of: (text) => readingsPage(text, [chart(text)]) },
  stockPage: { kind: "page", of: (text) => stockPage(hostileStock([text]), `${TODAY}T08:00:00.000Z`) },
  rackInWords: lines((text) => rackInWords(rack(text))),
  startsInWords: lines((text) => startsInWords(planStarts(rack(text)))),
  rackCsv: { kind: "table", of: (text) => rackCsv(hostileRack([text])) },
  tellRackPlan: lines((text) =>
    tellRackPlan({
      title: text,
      serials: five(text),
      turns: [{ pass: 0, name: text, members: [0, 1, 2, 3, 4] } as never],
      expected: {
        together: 1,
        alone: 1,
        total: 2,
        oneByOne: 5,
        odd: 1,
        faulty: 1,
        missed: { together: 0, oneByOne: 0 },
      } as never,
      rateInWords: "a starter value",
    }),
  ),
  chartsText: cutting((text) => chartsText([chart(text)])),
  tellRackSheet: lines((text) => tellRackSheet(hostileRack([text]))),
  rackFromFound: {
    kind: "file",
    of: (text) => rackFromFound([{ universe: 1, identity: identity(text) }], [shippedProfile("spot-16bit")], "found"),
  },
  readingText: lines((text) =>
    readingText({
      identity: identity(text),
      counters: {},
      settings: {},
      sensors: [],
      status: [],
      slots: [],
      lampState: undefined,
      selfTests: [{ number: 1, words: text }],
    }),
  ),
  rosterText: lines((text) =>
    rosterText(
      { rows: [{ universe: 1, identity: identity(text), fixture: undefined, wrong: [text] }], missing: [] },
      [1],
      true,
    ),
  ),
  releaseStatusInWords: lines((text) => releaseStatusInWords({ ...standingFrom(text, happened(text)), signed: text })),
  stockCsv: { kind: "table", of: (text) => stockCsv(hostileStock([text])) },
  tellStock: lines((text) => tellStock(hostileStock([text]))),
};

/** Functions of these files that tell nothing of what somebody else has written, or only hand it on as data. */
const OUR_OWN_WORDS: Readonly<Record<string, readonly string[]>> = {
  "words of ours alone": [
    "boardCounts",
    "boardLeft",
    "cautionOf",
    "chapterOf",
    "cleanPlanInWords",
    "commandsChapter",
    "filesChapter",
    "guidePage",
    "adviceInWords",
    "followUpInWords",
    "handWorkInWords",
    "hiddenInWords",
    "hoursInWords",
    "leftOutInWords",
    "many",
    "minutesInWords",
    "nothingWrong",
    "offerInWords",
    "offeredInWords",
    "padsInWords",
    "sensorDrawn",
    "settledInWords",
    "spanInWords",
    "stockTally",
    "suspectsInWords",
    "tally",
    "tellPractice",
    "tellRound",
    "timeInWords",
    "untriedInWords",
  ],
  "data, or a piece of a form above": [
    "allOf",
    "beforeAndAfter",
    "checkComputer",
    "cleanPlanFor",
    "code128",
    "comparedInWords",
    "countsInWords",
    "csvOf",
    "faultsByKind",
    "faultyInWords",
    "handMinutes",
    "jobSheetOf",
    "keptOf",
    "nextCommand",
    "oldestWaiting",
    "photosIn",
    "practiceData",
    "rackDrawn",
    "readingsCharts",
    "saidInWords",
    "unnamedInWords",
    "whenInWords",
    "worthReading",
    "worthTelling",
  ],
  "setting of text itself, tested by itself": ["cut", "fittedText", "hanging", "padded", "widthOf", "wrapped"],
};

const sources = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => join(folder, name));

test("every form that the program can print or write is among them", async () => {
  const read = sources("src")
    .filter((file) => !file.startsWith(join("src", "reports")))
    .flatMap((file) => [...readFileSync(file, "utf8").matchAll(/"[^"]*\/reports\/([^"]+)"/g)].map(([, name]) => name!));
  const told: string[] = [];
  for (const file of new Set(read)) {
    const exported: object = await import(join("../../src/reports", file));
    told.push(...Object.entries(exported).flatMap(([name, value]) => (typeof value === "function" ? [name] : [])));
  }
  expect(told.length).toBeGreaterThan(40);
  expect([...new Set(told)].toSorted()).toEqual(
    [...Object.keys(FORMS), ...Object.values(OUR_OWN_WORDS).flat()].toSorted(),
  );
});

const withoutBlanks = (text: string): string => text.replaceAll(/\s+/g, "");

describe.each(Object.entries(SCRIPTS))("%s (%s)", (_, text) => {
  const ofForm = (kind: Form["kind"]) => Object.entries(FORMS).filter(([, form]) => form.kind === kind);

  test.each(ofForm("lines"))("%s fits, and no character is cut in two", (_name, form) => {
    if (form.kind !== "lines") return;
    // As it is printed on a terminal.
    const printed = fittedText(form.of(text), form.columns).normalize();
    for (const line of printed.split("\n")) expect(stringWidth(line), line).toBeLessThanOrEqual(form.columns);
    // Composed or not, a character is the same one (Unicode UAX #15).
    const name = text.normalize();
    expect(cutCharacters(printed, name), printed).toEqual([]);
    if (form.cuts) expect(printed).toContain(charactersIn(name)[0]);
    else expect(withoutBlanks(printed)).toContain(withoutBlanks(name));
  });

  test.each(ofForm("page"))("%s shows it whole, and nothing beside it changes places", (_name, form) => {
    const page = form.of(text);
    expect(cutCharacters(page.replaceAll(/<[^>]+>/g, ""), text)).toEqual([]);
    expect(withoutBlanks(page.replaceAll(/<[^>]+>/g, ""))).toContain(withoutBlanks(text));
    // Outside of attributes and titles, which nobody reads in a line with others.
    const shown = page
      .replaceAll(/<title>.*?<\/title>|<style>[\s\S]*?<\/style>/g, "")
      .replaceAll(/<(bdi|tspan)[^>]*>.*?<\/\1>/gu, "");
    expect(shown.replaceAll(/<[^>]+>/g, "")).not.toMatch(/[\p{Script=Arabic}\p{Script=Hebrew}]/u);
  });

  test.each(ofForm("table"))("%s has it in a cell as it was written", (_name, form) => {
    expect((parse(form.of(text)) as string[][]).flat()).toContain(text);
  });

  test.each(ofForm("file"))("%s has it as it was written", (_name, form) => {
    const file = form.of(text);
    expect(file).toContain(text);
    expect(cutCharacters(file, text)).toEqual([]);
  });
});
