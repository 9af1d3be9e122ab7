import { expect, test } from "vitest";
import { rowsOf } from "../../src/ui/page.ts";
import { pageView } from "../../src/ui/page-view.ts";
import { changesInWords, sentencesOf, UNBROKEN } from "../../src/ui/sentences.ts";
import type { Line, Words } from "../../src/ui/view.ts";
import { pressing } from "../diagnosis/places/kit/pressed-run.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { DrivenRack, spots } from "../kit/driven-rack.ts";
import { PLAN, sightOf, sightOfAll, Typist } from "./sights.ts";

const FULL = "{ sweep: Pan, deg_per_s: 60, passes: 10 }";
const pressed = () => pressing(new Driven(jobOf([FULL, "sweep: Iris"])).started(), { kind: "position", place: 90 });
const viewOf = (run: Driven, listening = true) => pageView(sightOf(run.session, { listening }));
const wordsOf = (lines: readonly Line[]): readonly Words[] =>
  lines.flatMap((line) => (line.kind === "words" ? [line] : []));
const ofRole = (lines: readonly Line[], role: Words["role"]) => wordsOf(lines).filter((line) => line.role === role);

test("what can be chosen by its digit on the page is among the choices, under that very key", () => {
  const run = pressed();
  expect(run.session.stage.kind).toBe("asking");
  const { lines, choices } = viewOf(run);
  const digits = ofRole(lines, "option").map(({ mark }) => mark.trim());
  expect(digits.length).toBeGreaterThan(3);
  const keys = choices.flatMap((choice) => choice.keys);
  for (const digit of digits.filter((one) => one !== "0")) expect(keys).toContain(digit);
});

test("a page that starts movement names the key of its own, and offers no choice that the buttons could take", () => {
  const run = new Driven(jobOf([FULL])).begin();
  expect(run.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
  const view = viewOf(run);
  expect(view.guard).toBe(PLAN.own["before-moving"]);
  expect(view.choices).toEqual([]);
});

test("how to answer is neither shown nor told before a key answers; its rows are kept free", () => {
  const { lines } = viewOf(pressed(), false);
  const [how] = ofRole(lines, "answer");
  expect(sentencesOf(lines, false)).not.toContain(how!.text);
  expect(sentencesOf(lines, true)).toContain(how!.text);
  const [open, kept] = [rowsOf(lines, 80, true), rowsOf(lines, 80, false)];
  expect(kept).toHaveLength(open.length);
  expect(kept.map(({ text }) => text).join("\n")).not.toContain("ENTER");
});

test("read aloud nothing is drawn: back at the place, too, every sentence is one that somebody can listen to", () => {
  const at = new Typist(pressed());
  at.press("1", "enter", "r");
  expect(at.run.session.stage.kind).toBe("at-spot");
  const sentences = changesInWords(undefined, sightOf(at.run.session, { size: UNBROKEN }));
  expect(sentences.filter((one) => one.length > 400 || one.includes("[--"))).toEqual([]);
});

test("several are a list of fixtures with words around it; whoever is looked at alone has a page like a run of one", () => {
  const rack = new DrivenRack({ fixtures: spots(3), steps: ["{ sweep: Pan, seconds: 2, passes: 2 }"] }).begin();
  const lists = () =>
    pageView(sightOfAll(rack.batch)).lines.flatMap((line) => (line.kind === "fixtures" ? [line] : []));
  rack.untilStage("moving").differs("S2");
  expect(lists().map(({ rows }) => rows.map(({ serial, key, state }) => `${key} ${serial} ${state}`))).toEqual([
    ["D S1 moves now", "F S2 pressed once", "G S3 moves now"],
  ]);
  rack.untilStage("alone");
  expect(lists()).toEqual([]);
  expect(pageView(sightOfAll(rack.batch)).title).toMatch(/^S2, /);
});
