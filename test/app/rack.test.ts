import { readFileSync } from "node:fs";
import { afterAll, expect, test } from "vitest";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());

const HEAD = "rack: mine\ntitle: Mine\nlines: [{ universe: 1, output: sim }]\nfixtures:\n";
const entry = (serial: string, more = "") =>
  `  - { serial: ${serial}, profile: spot-16bit, shelf: top, place: by ${serial}${more} }   # ${serial}\n`;

test("a rack that is in order is told what it carries; one that is not is told all of it, with exit code 2", () => {
  expect(place.limber("rack", "check", "demo")).toMatchObject({ code: 0, err: "" });
  const both = `, universe: 1, address: 1`;
  const wrong = place.limber("rack", "check", place.file("clash.yaml", HEAD + entry("A", both) + entry("B", both)));
  expect(wrong).toMatchObject({ code: 2, out: "" });
  expect(wrong.err).toMatch(/clash\.yaml:6:\d+: slots 1 to 30 overlap A/);
});

test("addresses are proposed and the file is left alone, until it is told to write them", () => {
  const text = HEAD + entry("A", ", universe: 1, address: 31") + entry("B");
  const file = place.file("open.yaml", text);
  const proposed = place.limber("rack", "address", file, "--keep");
  expect(proposed.out).toMatch(/\[ \] by B {2}B {2}universe 1 {2}address {3}1/);
  expect(readFileSync(file, "utf8")).toBe(text);
  expect(place.limber("rack", "address", file, "--keep", "--write").code).toBe(0);
  expect(readFileSync(file, "utf8")).toBe(
    HEAD + entry("A", ", universe: 1, address: 31") + entry("B", ", universe: 1, address: 1"),
  );
  expect(place.limber("rack", "check", file).code).toBe(0);
});

test("without room for all of them nothing is written", () => {
  const text = HEAD + Array.from({ length: 18 }, (_, index) => entry(`F${index}`)).join("");
  const file = place.file("full.yaml", text);
  const full = place.limber("rack", "address", file, "--write");
  expect(full.code).toBe(2);
  expect(full.err).toMatch(/no room on universe 1 for F17 \(add a DMX line/);
  expect(readFileSync(file, "utf8")).toBe(text);
});

test("a fixture written by reference to another cannot be changed from here, and the file stays as it was", () => {
  const twin = `  - &one { serial: A, profile: spot-16bit, shelf: top, place: left }\n  - *one\n`;
  const file = place.file("twin.yaml", HEAD + twin);
  const said = place.limber("rack", "address", file, "--write");
  expect(said.code).toBe(2);
  expect(said.err).toMatch(/A is written in a way that cannot be changed from here/);
  expect(readFileSync(file, "utf8")).toBe(HEAD + twin);
});

test("a table becomes a rack file, which is never written over another one", () => {
  const table = place.file(
    "Truck 7.csv",
    'serial,profile,place\nA,spot-16bit,"top, left"\nB,spot-16bit,"top, right"\n',
  );
  const out = `${place.folder}/truck.yaml`;
  expect(place.limber("rack", "import", table, "--out", out).code).toBe(0);
  expect(place.limber("rack", "address", out, "--write").code).toBe(0);
  expect(place.limber("rack", "check", out).out).toMatch(/2 fixtures, nothing wrong/);
  expect(place.limber("rack", "import", table, "--out", out).code).toBe(3);
  expect(place.limber("rack", "import", table).out).toMatch(/^rack: truck-7\n/);
});

test("mistakes in a table name its line", () => {
  const wrong = place.limber("rack", "import", place.file("w.csv", "serial,profile,place\nA,spot-16bt,top left\n"));
  expect(wrong).toMatchObject({ code: 2, out: "" });
  expect(wrong.err).toMatch(/w\.csv:2:3: there is no profile of this name \(did you mean "spot-16bit"\?\)/);
});

test("who really moved corrects the addresses in the file, unless something is still open", () => {
  const set = (serial: string, address: number) => entry(serial, `, universe: 1, address: ${address}`);
  const file = place.file("mixed-up.yaml", HEAD + set("A", 1) + set("B", 31));
  const open = place.limber("rack", "moved", file, "A=B", "B=", "--write");
  expect(open.out).toBe(`A (top, by A) moved at no address: is it on, in its mode, and does data reach it?
B (top, by B) is set to universe 1, address 1; the file says universe 1, address 31.
Nothing is written while this is open.
`);
  expect(readFileSync(file, "utf8")).toBe(HEAD + set("A", 1) + set("B", 31));
  expect(place.limber("rack", "moved", file, "A=B", "B=A", "--write").code).toBe(0);
  expect(readFileSync(file, "utf8")).toBe(HEAD + set("A", 31) + set("B", 1));
  expect(place.limber("rack", "moved", file, "A=A", "B=B").out).toBe("The file is right.\n");
  expect(place.limber("rack", "moved", file, "A=C")).toMatchObject({ code: 2, out: "" });
});

test("the sheet of a rack run is told again from the journal, but for the time that a simulated run took", () => {
  const rack = place.file(
    "two.yaml",
    HEAD + entry("A", ", universe: 1, address: 1") + entry("B", ", universe: 1, address: 31"),
  );
  const plan = place.file("short.yaml", SHORT_SEQUENCE);
  const kept = ["--journal", place.journal];
  const order = ["--sequence", plan, "--output", "sim", "--watcher", "1", "--fast", "--set", "A=iris-leaf-kinked"];
  const played = place.limber("rack", "run", rack, ...order, ...kept);
  expect(played.code).toBe(0);
  const run = /run (\d{8}-\d{4}-[0-9a-f]{6})/.exec(played.out)![1]!;
  const again = place.limber("rack", "sheet", run, ...kept);
  const lines = again.out
    .trimEnd()
    .split("\n")
    .filter((line) => !line.startsWith("One by one"));
  expect(again.code).toBe(0);
  for (const line of lines) expect(played.out).toContain(line);
  expect(place.limber("rack", "sheet", run, "--as", "html", ...kept).out).toMatch(/^<!doctype html>/);
}, 120_000);

test("who-is-where that is stopped half-way writes nothing: those not asked would keep an address that another may have", async () => {
  const text = HEAD + ["A", "B", "C"].map((one, at) => entry(one, `, universe: 1, address: ${1 + 30 * at}`)).join("");
  const file = place.file("half.yaml", text);
  const run = place.starting("rack", "identify", file, "--write", "--watcher", "1", "--journal", place.journal);
  let out = "";
  run.stdout.on("data", (bytes) => {
    out += String(bytes);
  });
  const ended = new Promise<number | null>((resolve) => run.on("exit", resolve));
  await eventually(() => place.limber("runs", "--journal", place.journal).out.includes("identify"));
  run.kill("SIGTERM");
  expect(await ended).toBe(4);
  expect(out).toContain("Stopped before every address was asked: nothing is written.");
  expect(readFileSync(file, "utf8")).toBe(text);
}, 60_000);

/** Asked again and again, without a clock: the program that is waited for is a process of its own. */
const eventually = async (holds: () => boolean): Promise<void> => {
  while (!holds()) await new Promise(setImmediate);
};
