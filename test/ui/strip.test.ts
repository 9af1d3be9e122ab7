import { describe, expect, test } from "vitest";
import { seenPlace } from "../../src/ui/seen.ts";
import { lagStrip } from "../../src/ui/strip.ts";
import { shippedProfile } from "../kit/shipped.ts";

const WIDTH = 41;
const strip = (told: number, seen: number | undefined) =>
  lagStrip(
    { told: { share: told, words: "" }, seen: seen === undefined ? undefined : { share: seen, words: "" } },
    WIDTH,
  );
/** Columns from the mark in the middle. */
const lag = (told: number, seen: number): number => strip(told, seen)!.indexOf("O") - 20;

describe("the lag between the commanded and the actual position, enlarged", () => {
  test.each([
    { told: 0.2, seen: 0.133, columns: -13, because: "at 120 degrees a second of 540, 0.3 s of lag are 36 degrees" },
    { told: 0.8, seen: 0.733, columns: -13, because: "an even lag stands still, wherever it is" },
    { told: 0.2, seen: 0.1, columns: -16, because: "18 degrees more, a hesitation of 0.15 s, are three columns" },
    { told: 0.5, seen: 0.5019, columns: 2, because: "a swing of one degree beyond the stop is two columns" },
    { told: 0.1, seen: 0.9, columns: 20, because: "what is far off stands at the edge" },
  ])("$because", ({ told, seen, columns }) => {
    expect(lag(told, seen)).toBe(columns);
  });

  test("there is none while it turns on and on, nor on a real bench", () => {
    expect(lagStrip({ told: { share: undefined, words: "" }, seen: { share: 0.5, words: "" } }, WIDTH)).toBeUndefined();
    expect(strip(0.5, undefined)).toBeUndefined();
  });
});

describe("a wheel has no last place: what follows it is its first", () => {
  const spot = shippedProfile("spot-16bit");
  const seenAt = (share: number, told: number, id: "Color1" | "Gobo1Pos" | "Shutter1" = "Color1") => {
    const part = { function: id, share, words: "" };
    const seen = { spectacle: { parts: [part], sounds: [], light: "", display: "" }, moved: new Map() };
    return seenPlace(seen, id, spot, { share: told, words: "" })?.share;
  };

  test.each([
    { turns: 1, told: 0, shown: 0, because: "it has come to open by way of its last colour" },
    { turns: 3.001, told: 0, shown: 0.001, because: "after any number of turns" },
    { turns: 0.98, told: 0, shown: -0.02, because: "it lags a little, and not by a whole turn" },
    { turns: -0.25, told: 0.75, shown: 0.75, because: "the other way round it is the same place" },
    { turns: 0.5, told: 0.25, shown: 0.5, because: "a real gap stays as large as it is" },
  ])("$turns turns, told to be at $told: $because", ({ turns, told, shown }) => {
    expect(seenAt(turns, told)).toBeCloseTo(shown, 9);
    expect(seenAt(turns, told, "Gobo1Pos")).toBeCloseTo(shown, 9);
  });

  test("what has ends keeps them: a shutter that stays shut is far from open", () => {
    expect(seenAt(1, 0, "Shutter1")).toBe(1);
  });
});
