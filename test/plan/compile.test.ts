import { expect, test } from "vitest";
import { inSector } from "../../src/data/bench/bench.ts";
import { type Commands, physicalOf, type Travel } from "../../src/data/profile/profile.ts";
import type { FunctionId } from "../../src/domain/trade/functions.ts";
import { compile, compileStep, settingAfter } from "../../src/plan/compile.ts";
import { rawAt, sample } from "../../src/plan/sample.ts";
import { slowStart } from "../../src/plan/slow-moves.ts";
import { type CompiledStep, planOf } from "../../src/plan/timeline.ts";
import { sequenceOf, shippedBench, shippedProfile, shippedSequence } from "../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
const bench = shippedBench();
const stepOf = (text: string): CompiledStep => compile(spot, sequenceOf(text), bench).steps[0]!;
const degrees = (step: CompiledStep, id: FunctionId, n: number): number =>
  physicalOf(spot.functions.get(id) as Travel, rawAt(step, id, n));
/** Shutter open and dimmer up: light leaves the lens. */
const lit = (step: CompiledStep, n: number): boolean =>
  rawAt(step, "Shutter1", n) >= 32 && rawAt(step, "Dimmer", n) > 0;

test.each(["quick", "full"])(
  "in the %s check the beam is open only where the bench allows it, in every frame",
  (name) => {
    for (const step of compile(spot, shippedSequence(name), bench).steps)
      for (let n = 0; n <= step.frames; n++)
        if (lit(step, n))
          expect(inSector(bench, degrees(step, "Pan", n), degrees(step, "Tilt", n)), `${step.id} frame ${n}`).toBe(
            true,
          );
  },
);

test.each(["quick", "full"])(
  "in the %s check the shutter never flashes faster than 3 times a second (WCAG 2.1, 2.3.1)",
  (name) => {
    for (const step of compile(spot, shippedSequence(name), bench).steps) {
      const openings = Array.from({ length: step.frames }, (_, n) => n).filter(
        (n) => n > 0 && lit(step, n) && !lit(step, n - 1),
      );
      for (const [index, frame] of openings.entries())
        expect(openings.filter((other, at) => at >= index && other < frame + 40).length, step.id).toBeLessThanOrEqual(
          3,
        );
    }
  },
);

test.each([
  { text: "sweep: Pan", beam: "shut", because: "a wide sweep is judged dark, by ear" },
  { text: "{ snap: Pan, deg: 15 }", beam: "open", because: "a short snap inside the sector is judged on the wall" },
  { text: "{ snap: Pan, deg: 90 }", beam: "shut", because: "a snap that leaves the sector stays dark" },
  { text: "sweep: Iris", beam: "open", because: "an iris is judged by its light" },
  { text: "{ sweep: Iris, beam: shut }", beam: "shut", because: "by ear when the sequence says so" },
  {
    text: "{ sweep: Iris, others: { Pan: 170 } }",
    beam: "shut",
    because: "light must not go where the bench forbids it",
  },
])("$because", ({ text, beam }) => {
  expect(stepOf(text).beam).toBe(beam);
});

test("a step that had to stay dark against its nature says why", () => {
  expect(stepOf("{ snap: Pan, deg: 90 }").notes).toContain(
    "beam shut: this movement leaves the directions in which the bench allows an open beam",
  );
});

test.each([
  {
    text: "sweep: Iris",
    at: { Gobo1: 0, Gobo2: 0, ColorSub_C: 0 },
    because: "an iris is judged on a bare white field",
  },
  { text: "sweep: Focus1", at: { Gobo2: 16, ColorSub_C: 0 }, because: "focus needs a picture" },
  { text: "rotate: Gobo1Pos", at: { Gobo1: 20, Gobo2: 0 }, because: "a rotation needs its gobo in" },
  { text: "rotate: Prism1Pos", at: { Prism1: 159 }, because: "a prism turns in the beam" },
  { text: "in-and-out: Frost1", at: { Gobo2: 16 }, because: "frost softens a picture" },
])("base setting: $because", ({ text, at }) => {
  const step = stepOf(text);
  for (const [id, raw] of Object.entries(at)) expect(rawAt(step, id as FunctionId, step.leadIn), id).toBe(raw);
});

test("until the lead-in is over the beam is shut, and it is long enough for the fixture to get there", () => {
  const { steps } = compile(spot, sequenceOf("{ sweep: Pan, passes: 1 }", "sweep: Iris"), bench);
  const iris = steps[1]!;
  expect(degrees(steps[0]!, "Pan", steps[0]!.frames)).toBe(270);
  for (let n = 0; n < iris.leadIn; n++) expect(lit(iris, n)).toBe(false);
  expect(iris.leadIn / 40).toBeGreaterThanOrEqual((270 / 540) * 2.6);
});

test("where the fixture itself announces, the beam is shut for a second, then one slow dip says: watch now", () => {
  const [iris] = compile(spot, sequenceOf("sweep: Iris"), { ...bench, announce: "fixture" }).steps;
  expect(iris!.leadIn).toBeGreaterThanOrEqual(40);
  const dip = iris!.moves.filter((move) => move.function === "Dimmer" && move.frames > 0);
  expect(dip.map(({ to, frames }) => [to, frames])).toEqual([
    [0, 20],
    [255, 20],
  ]);
  expect(iris!.moves.find((move) => move.function === "Iris")!.start).toBeGreaterThanOrEqual(dip[1]!.start + 20);
  const dimmer = compile(spot, sequenceOf("sweep: Dimmer"), { ...bench, announce: "fixture" }).steps[0]!;
  expect(dimmer.moves.filter(({ function: id }) => id === "Dimmer")).toHaveLength(2);
});

test("a function that the fixture lacks is not fitted, not an error; in a group the others go on", () => {
  const short = shippedProfile("spot-8bit");
  const { steps } = compile(short, sequenceOf("sweep: CTO", "sweep: [CTO, ColorSub_C]", "rotate: Pan"), bench);
  expect(steps.map(({ fitted }) => fitted)).toEqual([false, true, false]);
  expect(steps[1]!.functions).toEqual(["ColorSub_C"]);
  expect(steps[1]!.notes).toEqual(["not fitted: CTO"]);
});

test("half the pace takes twice as long for every movement and ends in the same place", () => {
  const { steps } = shippedSequence("quick");
  const sweep = steps.find(({ id }) => id === "sweep-pan")!;
  const full = compileStep(spot, bench, sweep, spot.rest, 1);
  const half = compileStep(spot, bench, sweep, spot.rest, 0.5);
  const travel = (step: CompiledStep) => step.moves.filter(({ frames }) => frames > 0).map(({ frames }) => frames);
  expect(travel(half)).toEqual(travel(full).map((frames) => frames * 2));
  expect(settingAfter(half)).toEqual(settingAfter(full));
});

test.each([
  {
    routine: "step-through: Gobo1",
    because: "a wheel hops as fast as it can: what changes is how long each position is looked at",
  },
  { routine: "in-and-out: Prism1", because: "a flag that goes in goes in: what changes is how long it stays" },
])("half the pace of $routine takes twice as long ($because)", ({ routine }) => {
  const { steps } = sequenceOf(routine);
  const [full, half] = [1, 0.5].map((pace) => compileStep(spot, bench, steps[0]!, spot.rest, pace));
  const played = (step: CompiledStep) => step.frames - step.leadIn;
  expect(played(half!) / played(full!)).toBeGreaterThan(1.85);
});

test("the quick check takes about 172 s after homing, under three minutes (the bench's own target)", () => {
  const plan = planOf(compile(spot, shippedSequence("quick"), bench));
  const homing = plan.steps[0]!.length;
  expect(plan.total - homing).toBeGreaterThan(165);
  expect(plan.total - homing).toBeLessThan(180);
});

test("the full check is watched for less than 22 minutes, and no step ends before the fixture could", () => {
  const plan = planOf(compile(spot, shippedSequence("full"), bench));
  expect(plan.watched / 60).toBeLessThan(22);
  for (const { step, length } of plan.steps) expect(length, step.id).toBeGreaterThanOrEqual(step.floor);
  expect(plan.floor).toBeGreaterThan(0);
});

test("the slow start takes 3 s, stays dark, and moves pan and tilt a little", () => {
  const step = slowStart(spot, spot.rest);
  const moving = step.moves.filter(({ frames }) => frames > 0);
  expect(moving.filter(({ function: id }) => id === "Pan").reduce((sum, { frames }) => sum + frames, 0) / 40).toBe(3);
  expect(step.beam).toBe("shut");
  for (let n = 0; n < step.frames; n++) expect(Math.abs(degrees(step, "Pan", n))).toBeLessThanOrEqual(21.61);
});

test("the slow start begins where everything stands, and ends there", () => {
  const [first] = compile(spot, sequenceOf("{ sweep: Pan, seconds: 4, passes: 2 }"), bench).steps;
  for (const frame of [0, 60, 137, first!.frames]) {
    const standing = new Map([...first!.start.keys()].map((id) => [id, rawAt(first!, id, frame)] as const));
    const step = slowStart(spot, standing);
    for (const id of ["Pan", "Tilt"] as const)
      for (const n of [0, step.frames]) expect(rawAt(step, id, n), `${id} at ${n}`).toBe(standing.get(id));
    const pans = Array.from({ length: step.frames }, (_, n) => degrees(step, "Pan", n));
    const quickest = Math.max(...pans.slice(1).map((pan, n) => Math.abs(pan - pans[n]!)));
    expect(quickest * 40).toBeLessThan(15);
  }
});

test("every frame lies within the slots of the mode", () => {
  for (const profile of [spot, shippedProfile("spot-8bit")])
    for (const step of compile(profile, shippedSequence("quick"), bench).steps.filter(({ fitted }) => fitted))
      expect(sample(profile, step, 0)).toHaveLength(profile.slots);
});

test("a lamp with a slot of its own is struck there, and the slot goes back to rest", () => {
  const { commands, ...rest } = spot.functions.get("Control1") as Commands;
  const lampOn = commands.filter(({ is }) => is === "lamp-on");
  const functions = new Map(spot.functions).set("Control1", {
    ...rest,
    commands: commands.filter(({ is }) => is === "reset"),
  });
  const profile = { ...spot, functions: functions.set("LampControl", { ...rest, slots: [29], commands: lampOn }) };
  const [step] = compile(profile, sequenceOf("power-up: fixture"), bench).steps;
  const moves = step?.moves.map((move) => [move.function, move.from, move.to]);
  expect(moves).toEqual([
    ["LampControl", 0, 130],
    ["LampControl", 130, 0],
  ]);
});

test("what is judged by the smallest movement gets a small hard dot: iris nearly shut, zoom narrow, light low; colour an even white field", () => {
  const of = (text: string, id: FunctionId): number => Math.round(degrees(stepOf(text), id, 0));
  const zoom = spot.functions.get("Zoom") as Travel;
  const dot = "{ snap: Pan, deg: 15, times: 2 }";
  expect([of(dot, "Iris"), of(dot, "Dimmer"), of(dot, "Zoom")]).toEqual([10, 20, Math.min(zoom.from, zoom.to)]);
  expect([of("sweep: CTO", "Iris"), of("sweep: CTO", "Dimmer")]).toEqual([100, 100]);
});

/** The places of a function in the movement proper, one for each frame. */
const wayOf = (step: CompiledStep, id: FunctionId): readonly number[] =>
  Array.from({ length: step.frames - step.leadIn }, (_, n) => rawAt(step, id, step.leadIn + n));

test("with the axes a travel that is shaken is at work meanwhile, there and back; alone it is jolted itself", () => {
  const shaken = stepOf("{ shake: [Pan, Tilt, Zoom], seconds: 8 }");
  const zoom = wayOf(shaken, "Zoom");
  const { low, high } = spot.functions.get("Zoom") as Travel;
  expect([Math.min(...zoom), Math.max(...zoom), zoom.at(-1)]).toEqual([low, high, low]);
  expect(new Set(wayOf(shaken, "Pan")).size).toBe(3);
  expect(shaken.beam).toBe("open");
  const alone = wayOf(stepOf("{ shake: Zoom, seconds: 2 }"), "Zoom");
  expect(Math.max(...alone) - Math.min(...alone)).toBeLessThan(0.1 * (high - low));
});

test("a wheel that is shaken shows one position after the other", () => {
  const shaken = stepOf("{ shake: [Pan, Tilt, Gobo1], seconds: 8 }");
  const wheel = spot.functions.get("Gobo1");
  const positions = wheel?.kind === "wheel" ? wheel.positions.map(({ at }) => at) : [];
  const seen = [...new Set(wayOf(shaken, "Gobo1"))];
  expect(seen.length).toBeGreaterThan(3);
  for (const raw of seen) expect(positions).toContain(raw);
});

test("jumping together, axes go their degrees from the target and all else over its travel, with the beam open", () => {
  const together = stepOf("{ snap: [Pan, Tilt, Zoom, ColorSub_C], times: 2 }");
  const cyan = spot.functions.get("ColorSub_C") as Travel;
  expect(new Set(wayOf(together, "ColorSub_C"))).toEqual(new Set([cyan.low, cyan.high]));
  const pans = [
    ...new Set(wayOf(together, "Pan").map((raw) => Math.round(physicalOf(spot.functions.get("Pan") as Travel, raw)))),
  ];
  // Each as fast as it can: a ramp would take as long as the slowest.
  expect(pans.sort((a, b) => a - b)).toEqual([0, 15]);
  expect(together.beam).toBe("open");
});
