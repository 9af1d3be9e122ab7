import { parse } from "csv-parse/sync";
import { describe, expect, test } from "vitest";
import { safeText } from "../../src/domain/problem/shown-text.ts";
import { tellJobSheet } from "../../src/reports/job-sheet-text.ts";
import { labelOf } from "../../src/reports/label.ts";
import { csvOf, jobSheetCsv, rackCsv, stockCsv } from "../../src/reports/tables.ts";
import { HOSTILE_TEXTS } from "../kit/hostile.ts";
import { usualRack } from "./racks.ts";
import { hostileSheet, usualSheet } from "./sheets.ts";
import { usualStock } from "./stocks.ts";

const cells = (csv: string) => parse(csv) as string[][];
/** The apostrophe that keeps a spreadsheet from taking a text for a formula. */
const unguarded = (cell: string) => cell.replace(/^'(?=[=+\-@\t\r])/, "");

describe("what a person wrote comes through every form unchanged, and runs nothing", () => {
  test.each(HOSTILE_TEXTS)("as a table: %j", (hostile) => {
    const [, [cell = ""] = []] = cells(csvOf(["note"], [[hostile]]));
    expect(unguarded(cell)).toBe(hostile);
    // Cells that begin like this are formulas (OWASP, CSV injection).
    expect(cell).not.toMatch(/^[=+\-@\t\r]/);
  });

  test("as JSON", () => {
    const sheet = hostileSheet();
    expect(JSON.parse(JSON.stringify(sheet))).toEqual(JSON.parse(JSON.stringify(hostileSheet())));
    expect((JSON.parse(JSON.stringify(sheet)) as typeof sheet).fixture.serial).toBe(HOSTILE_TEXTS[0]);
  });

  test("as text, where what could drive a terminal is shown as what it is", () => {
    const text = tellJobSheet(hostileSheet());
    expect(text.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    const words = text.replaceAll(/\s+/g, "");
    for (const hostile of HOSTILE_TEXTS) expect(words).toContain(safeText(hostile).replaceAll(/\s+/g, ""));
  });
});

test("a job sheet as a table has one row for every step, passed ones too, under its heading", () => {
  const [heading, ...rows] = cells(jobSheetCsv(usualSheet()));
  expect(heading?.slice(0, 5)).toEqual(["serial", "run", "begun", "step", "function"]);
  expect(rows.map((row) => [row[3], row[6], row[7]])).toEqual([
    ["sweep-pan", "fail", "Pan jerks"],
    ["sweep-iris", "fail", "Iris not-round"],
    ["snap-tilt", "pass", ""],
  ]);
});

test("the stock as a table has one row for every fixture, with what was found and what it waits for", () => {
  const [, ...rows] = cells(stockCsv(usualStock()));
  expect(rows).toHaveLength(48);
  expect(rows[0]).toEqual([
    "S-100",
    "spot",
    "needs-work",
    "2",
    "again-0",
    "2026-11-20T09:00:00.000Z",
    "pan-belt-slack",
    "pan belt",
  ]);
  expect(rows[1]?.slice(-2)).toEqual(["", ""]);
});

test("a rack run as a table has one row for every fixture, odd or not", () => {
  const [heading, ...rows] = cells(rackCsv(usualRack()));
  expect(heading?.slice(1, 4)).toEqual(["serial", "place", "state"]);
  expect(rows).toHaveLength(24);
  expect(rows.filter((row) => row[3] === "fault seen").map((row) => row[1])).toEqual(["SP-208"]);
});

test("a label is a few short rows: the verdict and what is wrong, serial, date, and a code that finds the run", () => {
  expect(labelOf(usualSheet())).toEqual([
    "SIM NEEDS WORK",
    "failed, not passed si...",
    "A-17",
    "2026-11-25",
    "run 00c0de",
  ]);
  expect(labelOf({ ...usualSheet(), journal: "1234567-9c1e77ab02dd" }).at(-1)).toBe("no. 1234567-9c1e77ab02dd");
  for (const row of labelOf(hostileSheet())) {
    expect(row.length).toBeLessThanOrEqual(24);
    expect(row).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  }
});
