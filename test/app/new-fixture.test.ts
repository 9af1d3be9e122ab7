import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { built } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { inTerminal } from "../kit/terminal.ts";

const place = workplace();
afterAll(() => place.remove());

const KIND = /leave this\s+fixture\.\n>\s*$/;
const ADDRESS = /address 1\.\n>\s*$/;
const NEXT = /End of the\s+shift: \.\n>\s*$/;

const shift = () => {
  const args = ["shift", "--person", "KM", "--output", "sim", "--journal", join(place.folder, "shift.db")];
  return inTerminal([join(built(), "start.js"), ...args], { env: { HOME: place.folder }, rows: 60 });
};

test("a fixture that is new in a shift: every kind is named, and what cannot be right is asked for again at once", async () => {
  const run = shift();
  await run.until(NEXT);
  run.type("MH-4711\r");
  const kinds = (await run.until(KIND)).replaceAll(/\s+/g, " ");
  expect(kinds).toMatch(/9 \S+ By name: .*spot-16bit/);

  run.type("spot-61bit\r");
  expect(await run.until((screen) => KIND.test(screen) && screen.includes("spot-61bit:"))).toContain(
    "there is no profile of this name",
  );
  run.type("spot-16bit\r");
  await run.until(ADDRESS);
  for (const [typed, told] of [
    ["l2", '"l2" is not an address'],
    ["510", "past 512: at most"],
    ["0", '"0" is not a start address: 1 to 512.'],
  ] as const) {
    run.type(`${typed}\r`);
    await run.until((screen) => ADDRESS.test(screen) && screen.replaceAll(/\s+/g, " ").includes(told));
  }
  run.type("2.31\r");
  await run.until("SWITCH THE MAINS ON");
  await run.press("s", /Set aside\?[^>]*\n>\s*$/);
  run.type("\r");
  await run.until(NEXT);
  run.type(".\r");
  expect(await run.ended).toBe(0);
}, 120_000);
