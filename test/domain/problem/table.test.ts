import { expect, test } from "vitest";
import { tellProblems } from "../../../src/domain/problem/problem.ts";
import { readTable } from "../../../src/domain/problem/table.ts";

const COLUMNS = { needed: ["serial", "place"], others: ["address"] };
const cells = (text: string) => {
  const read = readTable("t.csv", text, COLUMNS);
  return read.ok
    ? read.value.rows.map((row) => [row.cell("serial"), row.cell("place"), row.cell("address")])
    : tellProblems(read.problems);
};

/** RFC 4180: quotes around a cell, doubled inside it; a cell may hold the separator. */
test.each([
  { because: "commas", text: 'serial,place\nA,"top, 1st"\n' },
  { because: "semicolons, as where the comma is the decimal mark", text: "serial;place\nA;top, 1st\n" },
  { because: "tabs, as copied out of a spreadsheet", text: "serial\tplace\nA\ttop, 1st\n" },
  {
    because: "a mark of byte order, line ends of two characters, blanks",
    text: '\uFEFFserial , place\r\nA , "top, 1st"\r\n',
  },
  { because: "names in whatever case and order", text: 'PLACE,Serial\n"top, 1st",A\n' },
  { because: "empty lines and empty rows", text: '\nserial,place\n\n,\nA,"top, 1st"\n' },
])("a table is read with $because", ({ text }) => {
  expect(cells(text)).toEqual([["A", "top, 1st", undefined]]);
});

test("a quote in a cell is doubled", () => {
  expect(cells('serial,place\nA,"the ""good"" shelf"\n')).toEqual([["A", 'the "good" shelf', undefined]]);
});

test("columns that are missing and columns that nobody knows are told at once, with their line", () => {
  expect(cells("serial,plaec\nA,top\n")).toBe(
    `t.csv:1:1: there is no column "place"
  serial,plaec
  ^^^^^^^^^^^^

t.csv:1:8: "plaec" is not a known column (did you mean "place"?)
  serial,plaec
         ^^^^^`,
  );
});

test("a mistake in a cell points at it, in the line of the file", () => {
  const read = readTable("t.csv", "serial,place\n\nA,top\nB,low\n", COLUMNS);
  const second = read.ok ? read.value.rows[1] : undefined;
  expect(second?.problem("place", "not a place").place).toEqual({ line: 4, column: 3, text: "B,low", length: 3 });
});

test("a mistake points at the cell, not at the same letters inside another one", () => {
  const read = readTable("t.csv", "serial,place,address\nA10,x1,1\n", COLUMNS);
  const [row] = read.ok ? read.value.rows : [];
  expect(row?.problem("address", "taken").place?.column).toBe(8);
});

test.each([
  { text: "", says: "t.csv: an empty table (its first row names the columns: serial, place)" },
  { text: 'serial,place\nA,"top\n', says: /^t\.csv: Quote Not Closed/ },
])("what is no table says so: $text", ({ text, says }) => {
  expect(cells(text)).toMatch(says);
});
