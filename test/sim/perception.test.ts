import fc from "fast-check";
import { expect, test } from "vitest";
import type { FunctionId } from "../../src/domain/trade/functions.ts";
import { mechanismOf } from "../../src/domain/trade/mechanisms.ts";
import { SYMPTOMS } from "../../src/domain/trade/symptoms.ts";
import { Perception } from "../../src/sim/observer/perception.ts";
import { setFaults } from "../../src/sim/physical/faults.ts";
import { Pair } from "./kit/drive.ts";
import { EXERCISES, type ExerciseName } from "./kit/exercises.ts";
import { hastySpot, hastyWash } from "./kit/fixtures.ts";

/** All that eyes and ears without chance make of one step. */
const toldBy = (
  functions: readonly FunctionId[],
  exercise: ExerciseName,
  fault: string,
  build = hastySpot(),
): readonly string[] => {
  const pair = new Pair(build, { troubles: setFaults(build, [fault], 2).troubles });
  const eyes = new Perception(build);
  pair.shine();
  pair.onFrame = (both) => void eyes.see(both);
  pair.run(15);
  eyes.begin({ functions, routine: "sweep", frames: 0 });
  const notices: ReturnType<Perception["end"]>[number][] = [];
  pair.onFrame = (both) => void notices.push(...eyes.see(both));
  EXERCISES[exercise](pair);
  return [...notices, ...eyes.end()].flatMap((notice) =>
    notice.kind === "symptom" ? [`${notice.symptom}/${notice.function ?? "fixture"}`] : [],
  );
};

const SOME: readonly FunctionId[] = ["Pan", "Tilt", "ColorSub_C", "Zoom", "Focus1", "Iris"];
const demands = fc.array(
  fc.record({
    id: fc.constantFrom(...SOME),
    to: fc.double({ min: 0, max: 1, noNaN: true }),
    seconds: fc.double({ min: 0.1, max: 4, noNaN: true }),
    how: fc.constantFrom("jump", "sweep"),
  }),
  { minLength: 3, maxLength: 12 },
);

test("whatever a healthy copy is asked to do, eye and ear notice nothing", () => {
  fc.assert(
    fc.property(demands, fc.integer({ min: 1, max: 1000 }), (moves, seed) => {
      const build = hastySpot();
      const pair = new Pair(build, { seed, copy: "made" });
      const eyes = new Perception(build);
      const seen: unknown[] = [];
      pair.shine();
      pair.run(13);
      eyes.begin({ functions: SOME, routine: "sweep", frames: 0 });
      pair.onFrame = (both) => seen.push(...eyes.see(both));
      for (const { id, to, seconds, how } of moves) {
        if (how === "jump") pair.go(id, to, seconds);
        else pair.sweep(id, pair.shares[id] ?? 0, to, seconds);
      }
      expect([...seen, ...eyes.end()]).toEqual([]);
    }),
    {
      numRuns: 15,
      // A step that is over while tilt is still on its way: nobody says of it that it stopped.
      examples: [
        [
          [
            { id: "Pan", to: 0, seconds: 0.1, how: "jump" },
            { id: "Tilt", to: 0, seconds: 0.7125, how: "jump" },
            { id: "Pan", to: 0, seconds: 0.2375, how: "jump" },
          ],
          1,
        ],
      ],
    },
  );
});

test("every report names a symptom that its mechanism can show, or belongs to the fixture", () => {
  const build = hastySpot();
  for (const fault of ["menu-other-mode", "input-pins-loose", "prism-axle-dry"]) {
    for (const exercise of ["fast", "turning", "flags", "inserts"] as const) {
      const functions: readonly FunctionId[] = [
        "Pan",
        "Tilt",
        "Gobo1Pos",
        "Prism1Pos",
        "ColorSub_C",
        "Prism1",
        "Shutter1",
      ];
      for (const told of toldBy(functions, exercise, fault)) {
        const [symptom, id] = told.split("/") as [keyof typeof SYMPTOMS, FunctionId | "fixture"];
        if (id === "fixture") continue;
        const part = build.parts.find((one) => one.function === id)!;
        const on: unknown = SYMPTOMS[symptom].on;
        expect(on, told).toContain(mechanismOf(id, part.kind === "wheel" ? part.wheel : undefined));
      }
    }
  }
});

test("at power-up one sees who goes on searching, and reads an error from the display", () => {
  const build = hastySpot();
  const seen = ["colour-magnet-faint", "pan-output-burnt"].map((fault) => {
    const pair = new Pair(build, { troubles: setFaults(build, [fault], 3).troubles });
    const eyes = new Perception(build);
    eyes.begin({ functions: [], routine: "power-up", frames: 0 });
    const notices: string[] = [];
    pair.onFrame = (both) => {
      for (const notice of eyes.see(both)) if (notice.kind === "symptom") notices.push(notice.symptom);
    };
    pair.run(40);
    return notices;
  });
  expect(seen[0]).toContain("keeps-homing");
  expect(seen[1]).toContain("error-shown");
  expect(seen[1]).toContain("no-move");
});

test("an emitter that stays dark is told from a light that went out", () => {
  const emitters: readonly FunctionId[] = ["ColorAdd_R", "ColorAdd_G", "ColorAdd_B", "ColorAdd_W"];
  const told = toldBy(emitters, "emitters", "led-string-open", hastyWash());
  expect(told).toHaveLength(1);
  expect(told[0]).toMatch(/^colour-dead\/ColorAdd_[RGBW]$/);
});

test("light is not blamed for what stands in its way: a stuck iris is not a dim lamp", () => {
  const told = toldBy(["Iris", "Dimmer", "Zoom"], "lenses", "iris-leaf-kinked");
  expect(told).toContain("not-round/Iris");
  expect(told.filter((one) => /^(dim|veil|tinted)/.test(one))).toEqual([]);
});
