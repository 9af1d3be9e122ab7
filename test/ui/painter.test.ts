import fc from "fast-check";
import { expect, test } from "vitest";
import { openLines, Painter } from "../../src/ui/painter.ts";
import { emulated } from "./emulated.ts";

const row = fc.oneof(fc.constant(""), fc.string({ maxLength: 30, unit: fc.constantFrom(..."ab █|-") }));
const page = fc.array(row, { maxLength: 12 }).map((rows) => rows.join("\n"));

test("whatever pages follow each other, the terminal shows the last one and nothing else", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(page, { minLength: 1, maxLength: 8 }), async (pages) => {
      const terminal = emulated(40, 15);
      const painter = new Painter(terminal.stdout);
      painter.enter();
      for (const one of pages) painter.write(one);
      const trimmed = (text: string) =>
        text
          .split("\n")
          .map((line) => line.trimEnd())
          .join("\n")
          .trimEnd();
      expect(await terminal.screen()).toBe(trimmed(pages.at(-1) ?? ""));
    }),
    { numRuns: 50 },
  );
});

test("a row that did not change is not written again", () => {
  const terminal = emulated(40, 15);
  const painter = new Painter(terminal.stdout);
  painter.enter();
  painter.write("one\ntwo\nthree");
  const before = terminal.output().length;
  painter.write("one\ntwo\nthree");
  expect(terminal.output().length).toBe(before);
  painter.write("one\n2\nthree");
  expect(terminal.output().slice(before)).toBe("\u001b[2;1H2\u001b[K");
});

test("after a change of size everything is painted anew, with no ghosts of the old size", async () => {
  const terminal = emulated(40, 10);
  const painter = new Painter(terminal.stdout);
  painter.enter();
  painter.write(`${"x".repeat(40)}\n${"y".repeat(40)}`);
  terminal.resize(20, 10);
  painter.anew();
  painter.write("short");
  expect(await terminal.screen()).toBe("short");
});

test("it leaves the terminal as it found it: the other screen gone, the cursor there", async () => {
  const terminal = emulated(40, 10);
  terminal.stdout.write("what stood there\r\n");
  const painter = new Painter(terminal.stdout);
  painter.enter();
  painter.write("page");
  expect(await terminal.screen()).toBe("page");
  expect(terminal.buffer()).toBe("alternate");
  expect(terminal.output()).toContain("\u001b[?25l");
  painter.leave();
  expect(await terminal.screen()).toBe("what stood there");
  expect(terminal.buffer()).toBe("normal");
  expect(terminal.output().lastIndexOf("\u001b[?25h")).toBeGreaterThan(terminal.output().lastIndexOf("\u001b[?25l"));
});

test("more rows than the terminal has are not written over its last one", async () => {
  const terminal = emulated(10, 3);
  const painter = new Painter(terminal.stdout);
  painter.enter();
  painter.write("1\n2\n3\n4\n5");
  expect(await terminal.screen()).toBe("1\n2\n3");
});

test("a board longer than the terminal is leafed through: every line comes to the screen, and each page says how", () => {
  const lines = Array.from({ length: 31 }, (_, n) => `line ${n + 1}`);
  expect(openLines(lines, 31, 0)).toEqual(lines);
  const pages = [0, 1, 2].map((leafed) => openLines(lines, 12, leafed));
  expect(pages.map((page) => page.at(-1))).toEqual([1, 2, 3].map((number) => `TAB: next page, ${number} of 3.`));
  expect(pages.flatMap((page) => page.slice(0, -1))).toEqual(lines);
  expect(Math.max(...pages.map(({ length }) => length))).toBe(12);
  expect(openLines(lines, 12, 3)).toEqual(pages[0]);
});
