import { existsSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { built } from "./built.ts";

test("the built program stands beside what it reads", () => {
  const dist = built();
  for (const beside of ["io/store/worker.js", "../package.json", "../profiles", "../sequences"])
    expect(existsSync(join(dist, beside)), beside).toBe(true);
  expect(built()).toBe(dist);
});
