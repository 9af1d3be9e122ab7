import { expect, test } from "vitest";
import { sightOf } from "../../src/app/simulated/sim-bench.ts";
import { FRAMES_PER_SECOND } from "../../src/domain/units.ts";
import { HEALTHY } from "../../src/sim/fixture.ts";
import { SimLine } from "../../src/sim/line.ts";
import { setFaults } from "../../src/sim/physical/faults.ts";
import { spectacleOf } from "../../src/sim/spectacle.ts";
import { Pair, universe } from "./kit/drive.ts";
import { hastySpot } from "./kit/fixtures.ts";

const pairWith = (fault: string) => {
  const pair = new Pair(hastySpot(), { troubles: setFaults(hastySpot(), [fault], 2).troubles });
  pair.shine();
  pair.run(20);
  return pair;
};
const words = (pair: Pair, id: string) => {
  const shown = spectacleOf(pair.frame().scene);
  return shown.parts.find((part) => part.function === id)?.words;
};

test("a healthy fixture shows its places in words, makes no odd sound, and stands on the wall", () => {
  const pair = new Pair(hastySpot());
  pair.shine();
  pair.run(20);
  pair.raw = { ...pair.raw, Gobo1: 24 };
  pair.run(2);
  const shown = spectacleOf(pair.frame().scene);
  expect(shown.sounds).toEqual([]);
  expect(shown.light).toBe("light 100 %");
  expect(shown.display).toBe("address 1");
  expect(words(pair, "Gobo1")).toBe("item 2");
  expect(words(pair, "Shutter1")).toBe("open");
  expect(shown.parts.find((part) => part.function === "Pan")?.share).toBeCloseTo(0.5, 3);
});

test.each([
  ["colour-sensor-shifted", "Color1", /^between .+ and .+/],
  ["prism-arm-bent", "Prism1", /^half in$/],
])("%s shows on %s as words", (fault, id, expected) => {
  const pair = pairWith(fault);
  pair.raw = { ...pair.raw, Prism1: 200 };
  pair.run(2);
  expect(words(pair, id)).toMatch(expected);
});

test("a knock of one frame stays on the screen until it can be read, however seldom that is drawn, and then goes", async () => {
  const build = hastySpot();
  const { troubles } = setFaults(build, ["tilt-drive-slack"], 2);
  const line = new SimLine([{ build, options: { ...HEALTHY, troubles } }]);
  const look = sightOf(line);
  await line.open(() => {});
  const drawn: boolean[] = [];
  /** Drawn every fifth frame, 8 times a second. */
  const go = (tilt: number, seconds: number) => {
    for (let n = 0; n < seconds * FRAMES_PER_SECOND; n++) {
      line.send(universe(build, { Pan: 0.5, Tilt: tilt }));
      if (n % 5 === 0) drawn.push(look()[0].sounds.some((sound) => sound.includes("knock")));
    }
  };
  go(0.5, 20);
  drawn.length = 0;
  go(0.6, 2);
  go(0.4, 4);
  expect(drawn.filter(Boolean).length).toBeGreaterThanOrEqual(4);
  expect(drawn.at(-1)).toBe(false);
});

test("what trembles is seen to tremble from one drawing to the next: it is in the picture, and the word is for who cannot see", () => {
  const pair = pairWith("tilt-winding-open");
  pair.raw = { ...pair.raw, Tilt: 60000 };
  const seen: number[] = [];
  // Drawn every second frame, 20 times a second.
  for (let n = 0; n < 40; n++) {
    const { scene } = pair.frame();
    if (n % 2 === 0) seen.push(spectacleOf(scene).parts.find((part) => part.function === "Tilt")!.share);
  }
  const steps = seen.slice(1).map((share, n) => share - seen[n]!);
  expect(steps.filter((step) => step > 0.002).length).toBeGreaterThan(4);
  expect(steps.filter((step) => step < -0.002).length).toBeGreaterThan(4);
  expect(words(pair, "Tilt")).toBe("trembles");
});
