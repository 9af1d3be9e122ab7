import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

/** Whoever looks for a name finds one thing: a type is called what no other type is called, whether others can import it or not. */
const DECLARED = /^(?:export )?(?:declare )?(?:abstract )?(?:interface|type|class) (\w+)/gm;

test("every type name stands once in the whole house", () => {
  const places = new Map<string, string[]>();
  for (const file of readdirSync("src", { recursive: true, encoding: "utf8" }).filter((name) => /\.tsx?$/.test(name)))
    for (const [, name = ""] of readFileSync(join("src", file), "utf8").matchAll(DECLARED))
      places.set(name, [...(places.get(name) ?? []), file]);
  expect(places.size).toBeGreaterThan(1000);
  expect([...places].filter(([, files]) => files.length > 1).map(([name, files]) => `${name}: ${files}`)).toEqual([]);
});
