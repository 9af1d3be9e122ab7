import { afterAll, beforeAll, expect, test } from "vitest";
import { type Ended, workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());

interface Sheet {
  readonly fixture: unknown;
  readonly profile: string;
  readonly sequence: string;
  readonly run: string;
  readonly simulated: boolean;
  readonly set: readonly string[];
  readonly steps: readonly {
    readonly id: string;
    readonly function: string;
    readonly routine: string;
    readonly result: string;
    readonly symptoms: readonly unknown[];
  }[];
  readonly faults: readonly {
    readonly id: string;
    readonly title: string;
    readonly probability: number;
    readonly because: readonly string[];
  }[];
}

let json: Ended;
let sheet: Sheet;
beforeAll(async () => {
  json = place.limber("--json", "--set", "tilt-drive-slack");
  sheet = JSON.parse(json.out) as Sheet;
}, 120_000);

test("without a terminal the main job runs unattended and its JSON says all it must", () => {
  expect(json).toMatchObject({ code: 0, err: "" });
  expect(sheet).toMatchObject({ profile: "spot-16bit", sequence: "quick", simulated: true, set: ["tilt-drive-slack"] });
  expect(sheet.run).toMatch(/^\d{8}-\d{4}-[0-9a-f]{6}$/);
  expect(sheet.fixture).toEqual({ serial: "simulated", universe: 1, address: 1 });
  for (const { id, function: moved, routine, result, symptoms } of sheet.steps) {
    expect([id, moved, routine, result].every((text) => typeof text === "string" && text !== "")).toBe(true);
    expect(Array.isArray(symptoms)).toBe(true);
  }
  for (const { probability } of sheet.faults) expect(probability).toBeGreaterThanOrEqual(0);
});

test("a slack tilt belt that was set is named first, with what speaks for it in plain words", () => {
  expect(sheet.faults[0]?.id).toBe("tilt-belt-slack");
  expect(sheet.faults[0]?.because.join("; ")).toContain("tilt");
});

test("the same seed gives the same job sheet, whoever runs it", async () => {
  const again = JSON.parse(place.limber("--json", "--set", "tilt-drive-slack").out) as Sheet;
  expect({ ...again, run: "", begun: "" }).toEqual({ ...sheet, run: "", begun: "" });
}, 120_000);

test("with nothing set nothing broken comes first, and the page says that it is simulated", async () => {
  const { code, out } = place.limber("--set", "none", "--watcher", "2");
  expect(code).toBe(0);
  expect(out).toContain("SIMULATED: a simulated fixture, not a real one.");
  expect(out.split("What it may be\n")[1]?.split("\n")[0]).toMatch(/nothing broken$/);
  expect(out).toContain("Hidden fault of the simulated fixture: nothing");
}, 120_000);
