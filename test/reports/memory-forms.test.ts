import { parse } from "csv-parse/sync";
import { describe, expect, test } from "vitest";
import { safeLines, safeText } from "../../src/domain/problem/shown-text.ts";
import { tellHistory } from "../../src/reports/history-text.ts";
import { tellStock } from "../../src/reports/stock-text.ts";
import { exportCsv } from "../../src/reports/tables.ts";
import type { RunSummary } from "../../src/run/events/summary.ts";
import { fixtureHistoryOf } from "../../src/run/memory/history.ts";
import { stockOf } from "../../src/run/memory/stock.ts";
import { HOSTILE_TEXTS } from "../kit/hostile.ts";
import {
  briefFrom,
  foundBody,
  type Happened,
  judgedBody,
  standingFrom,
  standingsFrom,
} from "../run/memory/happened.ts";
import { hostileStock } from "./stocks.ts";

/** As a technician may write them everywhere where something may be written. */
const hostileRun = (text: string): Happened => ({
  run: text,
  serial: text,
  bench: text,
  person: text,
  profile: text,
  steps: [{ of: "Pan", result: "fail", symptoms: [{ symptom: "knocks", function: "Pan" }], note: text }],
  after: [foundBody("pan-belt-slack", text), { kind: "found", what: "something-else", note: text }],
});

const withoutBlanks = (text: string) => text.replaceAll(/\s+/g, "");

describe.each(HOSTILE_TEXTS)("written by hand everywhere: %j", (hostile) => {
  const happened = hostileRun(hostile);
  const runs = [briefFrom(happened)];

  test("comes out of the table as it went in, and no cell begins as a formula does", () => {
    const [, step, find, other] = parse(exportCsv(runs)) as string[][];
    // The apostrophe keeps a spreadsheet from taking a text for a formula (OWASP, CSV injection).
    const unguarded = (cell: string | undefined) => cell?.replace(/^'(?=[=+\-@\t\r])/, "");
    for (const row of [step, find, other]) {
      expect(unguarded(row?.[0])).toBe(hostile);
      expect(unguarded(row?.at(-1))).toBe(hostile);
      for (const cell of row ?? []) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
    }
  });

  test("comes out of JSON as it went in", () => {
    const [back] = JSON.parse(JSON.stringify(runs)) as RunSummary[];
    expect([back?.serial, back?.bench, back?.steps[0]?.note, back?.finds[0]?.note]).toEqual(Array(4).fill(hostile));
  });

  test("is shown as what it is in the words of the history, and does nothing to a terminal", () => {
    const text = tellHistory(fixtureHistoryOf(hostile, runs, standingFrom(hostile, happened))!);
    expect(text.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    expect(withoutBlanks(text).split(withoutBlanks(safeText(hostile))).length).toBeGreaterThan(4);
  });
});

test("the words of the stock do nothing to a terminal either", () => {
  const text = tellStock(hostileStock());
  expect(text.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  for (const hostile of HOSTILE_TEXTS) expect(withoutBlanks(text)).toContain(withoutBlanks(safeText(hostile)));
});

test("lines that are shown on a terminal keep their breaks and nothing else that a terminal obeys", () => {
  expect(safeLines("one\r\ntwo\u001b[2J\u009b2J\nthree\u202e")).toBe("one\ntwo\\u001b[2J\\u009b2J\nthree\\u202e");
});

const knocking: Happened = {
  run: "check-in",
  steps: [
    { of: "Pan", result: "fail", symptoms: [{ symptom: "knocks", function: "Pan" }], note: "left end" },
    { of: "Iris", result: "pass" },
  ],
  after: [
    { kind: "inspected", inspection: "pan-belt-tension", answer: "bad", note: "" },
    foundBody("pan-belt-slack"),
    {
      kind: "repaired",
      what: "fault",
      fault: "pan-belt-slack",
      part: "pan belt",
      minutes: 20,
      initials: "JD",
      note: "",
    },
  ],
};
const mended: Happened = {
  run: "replay",
  at: "2026-11-02T11:05:00.000Z",
  replays: "check-in",
  steps: [
    { of: "Pan", result: "pass" },
    { of: "Iris", result: "pass" },
  ],
};
const again: Happened = { ...knocking, run: "next", at: "2026-11-20T09:00:00.000Z", person: "", ended: "stopped" };
const three = [knocking, mended, again];

test("the history of a fixture reads like this", async () => {
  await expect(
    tellHistory(fixtureHistoryOf("A-17", three.map(briefFrom), standingFrom("A-17", ...three))!),
  ).toMatchFileSnapshot("history.txt");
});

test("the stock reads like this", async () => {
  const others = [
    { ...mended, serial: "A-18", run: "other", replays: "earlier" },
    { ...mended, serial: "unknown", run: "nameless" },
    { ...mended, simulated: true, run: "played" },
  ];
  const all = [...three, ...others];
  await expect(tellStock(stockOf(all.map(briefFrom), standingsFrom(...all), "real"))).toMatchFileSnapshot("stock.txt");
});

test("a corrected judgement is exported corrected, with the judgement that counts", () => {
  const slip = briefFrom({
    ...knocking,
    after: [{ kind: "step-corrected", step: "sweep Pan", attempt: 1 }, judgedBody("Pan", "pass")],
  });
  const [heading, pan] = parse(exportCsv([slip])) as string[][];
  expect(pan?.[heading!.indexOf("result")]).toBe("pass");
  expect(pan?.[heading!.indexOf("symptoms")]).toBe("");
});
