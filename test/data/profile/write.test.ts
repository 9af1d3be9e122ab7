import { readdirSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { readProfile } from "../../../src/data/profile/parse.ts";
import { profileText } from "../../../src/data/profile/write.ts";
import { must, shippedText } from "../../kit/shipped.ts";

const shipped = readdirSync("profiles").filter((name) => name.endsWith(".yaml"));
const NO_REMARKS = { schema: "./profile.schema.json", about: [], functions: {} };

test.each(shipped)("profiles/%s written anew says the same", (name) => {
  const { written, profile } = must(readProfile(name, shippedText(`profiles/${name}`)));
  const again = must(readProfile(name, profileText(written, NO_REMARKS)));
  expect(again.written).toEqual(written);
  expect(again.profile).toEqual(profile);
});

test("words that YAML would take for something else stand in quotes", () => {
  const { written } = must(readProfile("scanner.yaml", shippedText("profiles/scanner.yaml")));
  for (const title of ["yes", "12", "a: b", "# no", "- x", "null", "'", '"', "ends with ", "tab\there", "off"]) {
    const text = profileText({ ...written, title }, NO_REMARKS);
    expect(must(readProfile("scanner.yaml", text)).written.title).toBe(title);
  }
});

test("remarks stand where people look for them and change nothing", () => {
  const { written } = must(readProfile("scanner.yaml", shippedText("profiles/scanner.yaml")));
  const remarks = {
    schema: "../x.json",
    about: ["Two lines", "about it"],
    functions: { Pan: "guessed", Gobo1: "dirty" },
  };
  const text = profileText(written, remarks);
  expect(text.split("\n").slice(0, 4)).toEqual([
    "# yaml-language-server: $schema=../x.json",
    "# Two lines",
    "# about it",
    "profile: scanner",
  ]);
  expect(text).toContain(
    "\n  Pan:        { slots: [1, 2], from_deg: -90, to_deg: 90, full_travel_s: 0.45, lag_s: 0.15 }   # guessed\n",
  );
  expect(text).toContain(
    "\n  Gobo1:   # dirty\n    slots: [8]\n    wheel: rotating\n    step_s: 0.15\n    positions:\n      - { at: 0, is: open }\n",
  );
  expect(must(readProfile("scanner.yaml", text)).written).toEqual(written);
});

test("whatever the names in it are, what is written is read again the same", () => {
  const { written } = must(readProfile("scanner.yaml", shippedText("profiles/scanner.yaml")));
  const words = fc.string({ minLength: 1, unit: "grapheme" });
  fc.assert(
    fc.property(words, words, (title, is) => {
      const named = { ...written, title, held: [{ slots: [1], at: 3, is }] };
      expect(parse(profileText(named, NO_REMARKS))).toEqual(named);
    }),
    { numRuns: 500 },
  );
});
