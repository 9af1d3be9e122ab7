import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

/** Whoever looks for a name finds one thing: a type that others can import is called what no other exported type is called. */
const EXPORTED = /^export (?:declare )?(?:abstract )?(?:interface|type|class) (\w+)/gm;

test("every exported type name stands once in the whole house", () => {
  const places = new Map<string, string[]>();
  for (const file of readdirSync("src", { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".ts")))
    for (const [, name = ""] of readFileSync(join("src", file), "utf8").matchAll(EXPORTED))
      places.set(name, [...(places.get(name) ?? []), file]);
  expect(places.size).toBeGreaterThan(500);
  expect([...places].filter(([, files]) => files.length > 1).map(([name, files]) => `${name}: ${files}`)).toEqual([]);
});
