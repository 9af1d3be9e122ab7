import { expect, test } from "vitest";
import type { FunctionId } from "../../src/domain/trade/functions.ts";
import { observer } from "../../src/sim/observer/observer.ts";
import { setFaults } from "../../src/sim/physical/faults.ts";
import type { Comparison } from "../../src/sim/scene.ts";
import { Pair } from "./kit/drive.ts";
import { EXERCISES, type ExerciseName } from "./kit/exercises.ts";
import { hastySpot } from "./kit/fixtures.ts";

interface Told {
  readonly presses: readonly number[];
  readonly symptoms: readonly string[];
  readonly sure: boolean;
}

interface Shift {
  readonly fault?: string;
  readonly light?: "light" | "dark";
}

/** One step watched from beginning to end by one observer per seed, all in front of the same fixture. */
const watchedBy = (
  seeds: readonly number[],
  functions: readonly FunctionId[],
  exercise: ExerciseName,
  shift: Shift = {},
): readonly Told[] => {
  const build = hastySpot();
  const { troubles } = setFaults(build, shift.fault ? [shift.fault] : [], 2);
  const pair = new Pair(build, { troubles, seed: 2, copy: "made" });
  if (shift.light !== "dark") pair.shine();
  const people = seeds.map((seed) => ({ person: observer(build, seed), presses: [] as number[] }));
  const see = ({ scene, twin }: Comparison): void => {
    for (const { person, presses } of people)
      for (let n = person.see(scene, twin); n > 0; n -= 1) presses.push(scene.frame);
  };
  pair.onFrame = see;
  pair.run(15);
  for (const { person } of people) person.begin({ functions, routine: "sweep", frames: 0 });
  EXERCISES[exercise](pair);
  return people.map(({ person, presses }) => {
    const { symptoms, sure } = person.end();
    return { presses, sure, symptoms: symptoms.map(({ symptom, function: id }) => `${symptom}/${id ?? "fixture"}`) };
  });
};

const watched = (
  functions: readonly FunctionId[],
  exercise: ExerciseName,
  shift: Shift & { readonly seed?: number } = {},
) => watchedBy([shift.seed ?? 1], functions, exercise, shift)[0]!;

test("the same seed gives the same presses and words, another seed others", () => {
  const once = watched(["Pan", "Tilt"], "fast", { fault: "pan-track-dented", seed: 4 });
  expect(watched(["Pan", "Tilt"], "fast", { fault: "pan-track-dented", seed: 4 })).toEqual(once);
  expect(watched(["Pan", "Tilt"], "fast", { fault: "pan-track-dented", seed: 5 }).presses).not.toEqual(once.presses);
});

test.each<[string, FunctionId, ExerciseName, string, string]>([
  ["tilt-drive-slack", "Tilt", "snaps", "knocks/Tilt", "slack is taken up with a knock"],
  ["pan-track-dented", "Pan", "axes", "grinds/Pan", "it rubs in one place"],
  ["tilt-winding-open", "Tilt", "axes", "trembles/Tilt", "it shakes and does not go"],
  ["pan-output-burnt", "Pan", "axes", "no-move/Pan", "it does not go and makes no sound"],
  ["pan-stop-pushed-in", "Pan", "axes", "stops-short/Pan", "it does not get to one end"],
  ["menu-range-cut", "Tilt", "axes", "short-range/Tilt", "it gets to neither end"],
  ["menu-pan-reversed", "Pan", "axes", "inverted/Pan", "left is right"],
  ["colour-sensor-shifted", "Color1", "wheels", "between-two/Color1", "two colours in one beam"],
  ["fixed-gobo-sensor-one-off", "Gobo2", "wheels", "wrong-item/Gobo2", "each place shows its neighbour"],
  ["gobo-spring-sprung", "Gobo1Pos", "turning", "wobbles/Gobo1Pos", "askew, so it wobbles as it turns"],
  ["gobo-drive-gritty", "Gobo1Pos", "turning", "ticks/Gobo1Pos", "a tick every turn"],
  ["magenta-flag-scorched", "ColorSub_M", "flags", "patchy/ColorSub_M", "blotches on the wall"],
  ["prism-arm-bent", "Prism1", "inserts", "half-in/Prism1", "it stops before it is in"],
  ["shutter-blade-warped", "Shutter1", "inserts", "leaks-light/Shutter1", "shut is not dark"],
  ["iris-leaf-kinked", "Iris", "lenses", "not-round/Iris", "the hole is no circle"],
  ["fan-bearing-worn", "Pan", "stand", "fan-loud/fixture", "everybody hears it, whatever is tested"],
])("%s, watching %s during %s, is reported as %s: %s", (fault, id, exercise, symptom) => {
  const reports = watchedBy([3, 4, 5], [id], exercise, { fault }).map(({ symptoms }) => symptoms);
  const times = reports.filter((symptoms) => symptoms.includes(symptom)).length;
  expect(times, JSON.stringify(reports)).toBeGreaterThanOrEqual(2);
});

test("with the shutter closed nothing is reported that only light shows, but sounds still are", () => {
  const dark = { light: "dark" } as const;
  expect(watched(["Gobo1Pos"], "turning", { fault: "gobo-spring-sprung", ...dark }).symptoms).toEqual([]);
  expect(watched(["ColorSub_M"], "flags", { fault: "magenta-flag-scorched", ...dark }).symptoms).toEqual([]);
  expect(watched(["Color1"], "wheels", { fault: "colour-sensor-shifted", ...dark }).symptoms).toEqual([]);
  expect(watched(["Pan"], "axes", { fault: "pan-track-dented", ...dark }).symptoms).toContain("grinds/Pan");
  expect(watched(["Pan"], "axes", { fault: "menu-pan-reversed", ...dark }).symptoms).toContain("inverted/Pan");
});

test("what is not under test goes unnoticed unless nobody could overlook it", () => {
  expect(watched(["Zoom"], "wheels", { fault: "colour-sensor-shifted" }).symptoms).toEqual([]);
  expect(watched(["Pan"], "axes", { fault: "menu-axes-swapped" }).symptoms).toContain("something-else-moved/fixture");
});

test("presses come a reaction time after the fault: ex-Gaussian with mean .4 s (an assumption, no source)", () => {
  const build = hastySpot();
  const { troubles } = setFaults(build, ["pan-track-dented"], 2);
  const delays = [1, 2, 3, 4, 5, 6, 7, 8].flatMap((seed) => {
    const pair = new Pair(build, { troubles });
    pair.run(20);
    const person = observer(build, seed);
    person.begin({ functions: ["Pan"], routine: "sweep", frames: 0 });
    let rubs: number | undefined;
    const found: number[] = [];
    pair.onFrame = ({ scene, twin }) => {
      const scrape = scene.parts.find(({ function: id }) => id === "Pan")!.sounds.scrape;
      if (scrape > 0.15) rubs ??= scene.frame;
      if (person.see(scene, twin) > 0 && rubs !== undefined) found.push((scene.frame - rubs) / 40);
    };
    pair.sweep("Pan", 0.5, 0, 3);
    rubs = undefined;
    found.length = 0;
    pair.sweep("Pan", 0, 1, 6);
    return found.slice(0, 1);
  });
  expect(delays.length).toBeGreaterThanOrEqual(6);
  const mean = delays.reduce((sum, delay) => sum + delay, 0) / delays.length;
  expect(mean).toBeGreaterThan(0.25);
  expect(mean).toBeLessThan(0.6);
});

test("of a rub that only the ear can notice about one in ten is missed", () => {
  const build = hastySpot();
  const pair = new Pair(build, { troubles: setFaults(build, ["pan-track-dented"], 2).troubles });
  pair.shares = { ...pair.shares, Pan: 0 };
  pair.run(17);
  const people = [1, 2, 3, 4, 5].map((seed) => observer(build, seed));
  for (const person of people) person.begin({ functions: ["Pan"], routine: "sweep", frames: 0 });
  let presses = 0;
  pair.onFrame = ({ scene, twin }) => {
    for (const person of people) presses += person.see(scene, twin);
  };
  const crossings = 20;
  for (let n = 0; n < crossings; n += 1) pair.sweep("Pan", n % 2, 1 - (n % 2), 9);
  const caught = presses / (crossings * people.length);
  expect(caught).toBeGreaterThan(0.82);
  expect(caught).toBeLessThan(0.97);
});

test("three people at a healthy copy report no symptom in any exercise, and hardly press", () => {
  const build = hastySpot();
  const functions = build.parts.map((part) => part.function).filter((id) => id !== "Control1");
  const pair = new Pair(build, { seed: 3, copy: "made" });
  const people = [1, 2, 3].map((seed) => observer(build, seed));
  let presses = 0;
  let steps = 0;
  pair.onFrame = ({ scene, twin }) => {
    for (const person of people) presses += person.see(scene, twin);
  };
  pair.shine();
  pair.run(15);
  for (const [name, exercise] of Object.entries(EXERCISES)) {
    if (["long", "longer", "tipped", "homing"].includes(name)) continue;
    for (const person of people) person.begin({ functions, routine: "sweep", frames: 0 });
    exercise(pair);
    for (const person of people) expect(person.end().symptoms, name).toEqual([]);
    steps += people.length;
  }
  expect(presses).toBeLessThan(steps / 3);
});
