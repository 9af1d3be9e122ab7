import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { RunSummary } from "../../src/run/events/summary.ts";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());
const limber = (...args: readonly string[]) => place.limber(...args, "--journal", place.journal);
const as = (person: string, ...args: readonly string[]) => limber(...args, "--person", person);
let run = "";
beforeAll(() => {
  const short = place.file("short.yaml", SHORT_SEQUENCE);
  as("KM", "sweep", "--watcher", "1", "--fast", "--sequence", short, "--serial", "A-17", "--set", "none");
  run = (JSON.parse(limber("runs", "--json").out) as readonly RunSummary[])[0]?.run ?? "";
}, 120_000);
const label = () => limber("sheet", run, "--as", "label").out;

test("what is held back stays held back through a repair, and a person lifts it with a reason; the label says so meanwhile", () => {
  expect(as("KM", "hold", "A-17", "--why", "bulged capacitor?").code).toBe(0);
  expect(label()).toContain("SIM DO NOT USE");
  as("KM", "mended", "A-17", "brackets-loose");
  expect(limber("history", "A-17").out).toContain("held back by KM: bulged capacitor?");
  expect(as("JD", "lift", "A-17", "--why", " ").code).toBe(2);
  expect(as("JD", "lift", "A-17", "--why", "looked at: flat and dry").code).toBe(0);
  expect(label()).not.toContain("DO NOT USE");
  expect(as("JD", "lift", "A-17", "--why", "again")).toMatchObject({ code: 2, err: expect.stringContaining("nobody") });
});

test("a damaged cord that is called good afterwards is still a danger, until another person says why it is none", () => {
  as("KM", "look", run, "plug-and-cord", "bad");
  as("KM", "look", run, "plug-and-cord", "good");
  expect(label()).toContain("SIM DO NOT USE");
  expect(as("JD", "sign", "a-17 ").err).toContain("plug, inlet or cord damaged");
  as(" km", "second-opinion", "A-17", "plug-and-cord", "--why", "paint");
  as("KM", "look", run, "plug-and-cord", "good");
  expect(label()).toContain("SIM DO NOT USE");
  as("JD", "second-opinion", "A-17", "plug-and-cord", "--why", "paint, scratched off");
  as("KM", "look", run, "plug-and-cord", "good");
  expect(label()).not.toContain("DO NOT USE");
});

test.each([
  [["earth-continuity", "within"], "no value was written down"],
  [["earth-continuity", "within", "--value", "5000"], "5000 ohm cannot be within any limit"],
])("a measurement that cannot be is refused: %j", (args, words) => {
  expect(as("EE", "reading", "A-17", ...args)).toMatchObject({ code: 2, err: expect.stringContaining(words) });
});

test("an electrical test out of limit stands in history, sheet, label and export", () => {
  as("EE", "reading", "A-17", "electrical-safety", "outside", "--value", "12");
  expect(limber("history", "A-17").out).toContain("electrical safety test: 12, OUT OF LIMIT; signed EE");
  expect(limber("sheet", run).out).toContain("Do not use: electrical safety test out of limit");
  expect(label()).toContain("SIM DO NOT USE");
  expect(limber("export", "--csv").out).toContain("measurement,electrical-safety,,,outside 12 EE");
});

test("a fixture with a danger is not switched on with a rack", () => {
  const rack = place.file(
    "one.yaml",
    "rack: one\ntitle: One\nlines: [{ universe: 1, output: sim }]\nfixtures:\n  - { serial: A-17, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 1 }\n",
  );
  expect(as("KM", "rack", "run", rack, "--watcher", "1", "--fast")).toMatchObject({
    code: 2,
    err: expect.stringContaining("no power before it is repaired: electrical safety test out of limit"),
  });
});

test("a rack run refuses a sequence with work by hand instead of leaving that out", () => {
  expect(as("KM", "rack", "run", "demo", "--sequence", "check-in", "--watcher", "1", "--fast")).toMatchObject({
    code: 2,
    err: expect.stringContaining("work by hand, which a rack run cannot do"),
  });
});

test("released at a level: sheet, page and label say which, by whom, and what is due next", () => {
  const needs = "needs: [{ sequence: short, every: return }, { full: check, every: { returns: 4, months: 12 } }]";
  place.file("shop.yaml", `shop: house\ntitle: House\nlevels:\n  - { level: short, title: Short, ${needs} }\n`);
  const short = place.file("short.yaml", SHORT_SEQUENCE);
  as("KM", "sweep", "--watcher", "1", "--fast", "--sequence", short, "--serial", "B-2", "--set", "none");
  const own = (JSON.parse(limber("runs", "--json").out) as readonly RunSummary[]).find(
    ({ serial }) => serial === "B-2",
  );
  expect(limber("sheet", own!.run).out).not.toContain("Due next");
  expect(as("JD", "sign", "B-2", "--level", "short").out).toContain("Due next: full check after 3 more returns");
  const due = "Due next: full check after 3 more returns or 12 months.";
  expect(limber("sheet", own!.run).out).toContain(`Released at level short by JD\n${due}\n`);
  expect(limber("sheet", own!.run, "--as", "html").out).toContain(due);
  expect(limber("sheet", own!.run, "--as", "label").out.split("\n").slice(0, 5)).toEqual([
    "SIM RELEASED",
    "level short, JD",
    "Due next: full check",
    "after 3 more returns or",
    "12 months.",
  ]);
});

test("with roles in the shop file beside the journal only those who are named sign, measure and lift", () => {
  const people = "people: [{ initials: KM, may: [release, lift] }, { initials: EE, may: [measure] }]\n";
  place.file("shop.yaml", `shop: house\ntitle: House\nlevels: []\n${people}`);
  expect(join(place.folder, "shop.yaml")).toBe(join(place.journal, "..", "shop.yaml"));
  for (const [person, args] of [
    ["JD", ["sign", "A-17"]],
    ["KM", ["reading", "A-17", "electrical-safety", "within"]],
    ["EE", ["second-opinion", "A-17", "water", "--why", "dry"]],
  ] as const)
    expect(as(person, ...args)).toMatchObject({ code: 2, err: expect.stringContaining(`${person} may not`) });
  place.file("shop.yaml", "shop: [\n");
  expect(as("KM", "sign", "A-17")).toMatchObject({ code: 2, err: expect.stringContaining("shop.yaml") });
});
