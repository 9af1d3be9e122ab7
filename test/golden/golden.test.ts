import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { STORIES } from "./stories.ts";

/**
 * Runs of every kind as they were recorded once, byte for byte: whoever regroups code changes none of them. Whoever
 * changes what a run does records anew and says why: `RENEW="a hold comes before a stop" npm run golden`.
 */
const PLACE = join("test", "golden", "recorded");
const WHY = process.env["RENEW"];

const fileOf = (name: string): string => join(PLACE, `${name.replace(/[^a-z0-9]+/gi, "-")}.txt`);
const kept = (name: string): readonly string[] =>
  readFileSync(fileOf(name), "utf8")
    .split("\n")
    .filter((line) => line !== "" && !line.startsWith("#"));

/** A recording that still holds keeps its file and the reason it was made for. */
const renew = (name: string, now: readonly string[], why: string): void => {
  if (readdirSync(PLACE).includes(fileOf(name).slice(PLACE.length + 1)) && kept(name).join() === now.join()) return;
  writeFileSync(fileOf(name), [`# ${name}`, `# recorded because: ${why}`, ...now, ""].join("\n"));
};

mkdirSync(PLACE, { recursive: true });

test.each(Object.entries(STORIES))("%s", async (name, play) => {
  const now = await play();
  if (WHY) renew(name, now, WHY);
  expect(now).toEqual(kept(name));
});

test("every recording belongs to a run that is still played", () => {
  const files = Object.keys(STORIES).map(fileOf);
  const strangers = readdirSync(PLACE).filter((file) => !files.includes(join(PLACE, file)));
  if (WHY) for (const file of strangers) rmSync(join(PLACE, file));
  else expect(strangers).toEqual([]);
});
