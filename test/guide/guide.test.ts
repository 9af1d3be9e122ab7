import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { workplace } from "../kit/limber.ts";
import { namedIn, reader, renew, shownIn, toldIn, wordsOf } from "./told.ts";

/**
 * Everything that README and guide tell somebody to type is typed, and what it prints is compared.
 * RENEW="why" npx vitest run test/guide writes what the program prints today into the chapters.
 */
const FOLDER = join("docs", "guide");
const FILES = ["README.md", ...readdirSync(FOLDER).map((name) => join(FOLDER, name))];
const RENEW = process.env["RENEW"] !== undefined;
const MINUTES = 300_000;

describe.each(FILES)("%s", (file) => {
  const text = readFileSync(file, "utf8");

  test(
    "prints what stands under each command",
    () => {
      const { types, remove } = reader();
      const printed = toldIn(text).map((told) => ({ ...told, ...types(told.line) }));
      remove();
      if (RENEW)
        renew(
          file,
          printed.map(({ prints }) => prints),
        );
      const told = toldIn(readFileSync(file, "utf8"));
      for (const [n, { line, status, prints }] of printed.entries()) {
        expect(status, `${line}\n${prints.join("\n")}`).toBeOneOf([0, 2, 3]);
        const wanted = told[n]!;
        expect({ line, prints: wanted.more ? prints.slice(0, wanted.prints.length) : prints }).toEqual({
          line,
          prints: wanted.prints,
        });
      }
    },
    MINUTES,
  );

  test(
    "every command for an interface, a server or a file of one's own is understood",
    () => {
      const { types, remove } = reader();
      for (const line of shownIn(text)) {
        const { status, stderr } = types(line);
        // Nothing is plugged in here: it may be refused by the world, never by its own spelling, and is no mistake of ours.
        expect(status, `${line}: ${stderr}`).not.toBe(1);
        expect(stderr, line).not.toMatch(MISSPELT);
      }
      remove();
    },
    MINUTES,
  );
});

const MISSPELT =
  /unknown option|unknown command|no such command|missing required|too many arguments|argument missing|choices are/i;

test(
  "every command that is named in a sentence exists, with its options",
  () => {
    const place = workplace();
    afterAll(() => place.remove());
    const helps = new Map<string, string>();
    const helpOf = (path: string): string => {
      const known = helps.get(path) ?? place.limber(...path.split(" "), "--help").out;
      helps.set(path, known);
      return known;
    };
    const lines = FILES.flatMap((file) => namedIn(readFileSync(file, "utf8")).map((line) => ({ file, line })));
    expect(lines.length).toBeGreaterThan(30);
    for (const { file, line } of lines) {
      const words = wordsOf(line);
      const path = words.filter((word, n) => n < 2 && /^[a-z-]+$/.test(word) && !word.startsWith("-"));
      const [family = ""] = path;
      if (family === "COMMAND") continue;
      const inFamily = helpOf(family).includes("\nCommands:");
      const help = helpOf(inFamily ? path.join(" ") : family);
      expect(help, `${file}: limber ${line}`).toMatch(/^Usage: limber /);
      for (const option of words.filter((word) => word.startsWith("--") && word !== "--help"))
        expect(help, `${file}: limber ${line}`).toContain(option);
    }
  },
  MINUTES,
);

describe("limber guide", () => {
  const place = workplace();
  afterAll(() => place.remove());
  const chapters = () => [...place.limber("guide").out.matchAll(/^([a-z-]+) {2,}\S/gm)].map(([, name]) => name!);

  test("lists its chapters, every file of the folder among them, and prints each", () => {
    expect(chapters()).toEqual(expect.arrayContaining(readdirSync(FOLDER).map((name) => name.replace(/\.md$/, ""))));
    for (const name of chapters()) expect(place.limber("guide", name).out, name).toMatch(/^# /);
  });

  test("has every command in it, as its own help tells it", () => {
    const told = place.limber("guide", "commands").out;
    for (const name of ["doctor", "rack run", "journal rescue", "profile import"]) {
      expect(told).toContain(`\n## limber ${name}\n`);
      expect(told).toContain(place.limber(...name.split(" "), "--help").out.trim());
    }
  });

  test("has every key that a profile may have, from the schema", () => {
    const { properties } = JSON.parse(readFileSync("profiles/profile.schema.json", "utf8"));
    const told = place.limber("guide", "files").out;
    for (const key of Object.keys(properties)) expect(told).toContain(`| \`${key}\` |`);
  });

  test("a misspelt chapter names the nearest", () => {
    expect(place.limber("guide", "shft")).toMatchObject({
      code: 2,
      err: expect.stringContaining('did you mean "shift"?'),
    });
  });

  test("README is short", () => {
    expect(readFileSync("README.md", "utf8").split("\n").length).toBeLessThanOrEqual(150);
  });
});
