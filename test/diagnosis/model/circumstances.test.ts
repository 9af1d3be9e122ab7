import { describe, expect, test } from "vitest";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { type CircumstanceId, untriedIn } from "../../../src/diagnosis/model/circumstances.ts";
import { expression } from "../../../src/diagnosis/model/exposure.ts";
import { comesOut } from "../../../src/diagnosis/model/knowledge/comes-out.ts";
import type { FaultId } from "../../../src/diagnosis/model/knowledge/faults.ts";
import { type Advice, whatNext } from "../../../src/diagnosis/model/next.ts";
import type { Circumstances, Observation } from "../../../src/diagnosis/model/observation.ts";
import { drivableOn, minutesOf } from "../../../src/diagnosis/model/probe.ts";
import { probesFor } from "../../../src/diagnosis/model/probes.ts";
import type { TryOut } from "../../../src/diagnosis/model/try-outs.ts";
import { FUNCTIONS, type FunctionId } from "../../../src/domain/trade/functions.ts";
import type { RoutineId } from "../../../src/domain/trade/routines.ts";
import type { SymptomId } from "../../../src/domain/trade/symptoms.ts";
import { compileStep } from "../../../src/plan/compile.ts";
import { shippedBench, shippedProfile } from "../../kit/shipped.ts";
import { runWith, SPOT } from "./spot.ts";

const USUAL: Circumstances = { tilt: [10, 10], leanings: "one", beam: "open", speed: 0.5 };
const stepOf = (
  routine: RoutineId,
  functions: readonly FunctionId[],
  how: Partial<Circumstances> = {},
  litMinutes = 3,
): Observation => ({
  routine,
  functions: functions.map((id) => ({ function: id, mechanism: FUNCTIONS[id].mechanism })),
  result: "pass",
  symptoms: [],
  watched: "attended",
  litMinutes,
  attitude: "standing",
  circumstances: { ...USUAL, ...how },
});

describe("what a step shows depends on how it is played", () => {
  interface Row {
    readonly fault: FaultId;
    readonly symptom: SymptomId;
    readonly hardly: Observation;
    readonly plainly: Observation;
    readonly because: string;
  }
  const ROWS: readonly Row[] = [
    {
      fault: "prism-arm-spring",
      symptom: "half-in",
      hardly: stepOf("in-and-out", ["Prism1"], { tilt: [0, 0] }),
      plainly: stepOf("in-and-out", ["Prism1"], { tilt: [80, 80] }),
      because: "an arm swings across the beam: with the beam straight up its weight pulls it neither in nor out",
    },
    {
      fault: "zoom-belt-slack",
      symptom: "slips-back",
      hardly: stepOf("hold", ["Zoom"], { tilt: [90, 90] }),
      plainly: stepOf("hold", ["Zoom"], { tilt: [0, 0] }),
      because: "a lens travels along the beam: with the beam level its weight hangs on the rails, not on the belt",
    },
    {
      fault: "supply-weak",
      symptom: "reset-itself",
      hardly: stepOf("sweep", ["Iris"]),
      plainly: stepOf("snap", ["Pan", "Tilt", "Zoom", "Focus1", "Iris", "ColorSub_C"]),
      because: "one small motor hardly loads the supply, both axes with four others do",
    },
    {
      fault: "loom-drag",
      symptom: "at-angle",
      hardly: stepOf("sweep", ["Iris"]),
      plainly: stepOf("sweep", ["Pan"]),
      because: "wires are bent where the head moves, and stand as they are where it does not",
    },
    {
      fault: "flag-binds-warm",
      symptom: "stalls",
      hardly: stepOf("sweep", ["ColorSub_C"], {}, 1),
      plainly: stepOf("sweep", ["ColorSub_C"], {}, 10),
      because: "clearance closes as it warms, and that takes minutes of light",
    },
    {
      fault: "board-plug-loose",
      symptom: "jerks",
      hardly: stepOf("sweep", ["ColorSub_C"]),
      plainly: stepOf("shake", ["Pan", "Tilt", "ColorSub_C"]),
      because: "a plug that sits loose opens when it is shaken",
    },
  ];

  test.each(ROWS)("$fault: $because", (row) => {
    const when = comesOut(row.fault, row.symptom);
    expect(expression(when, row.hardly)).toBeLessThan(0.6 * expression(when, row.plainly));
  });

  test("a fault with a condition of its own keeps it, whatever its effects need", () => {
    expect(comesOut("loom-tired", "at-angle")).toBe("now-and-then");
    expect(comesOut("zoom-binds-warm", "slips-back")).toBe("warm");
  });

  test("what always shows needs nothing of all this", () => {
    expect(comesOut("flag-sticks", "stalls")).toBe("always");
    expect(comesOut("loom-drag", undefined)).toBe("always");
  });

  test("who does not say how a step was played is taken to have tried it all", () => {
    const { circumstances: _, ...unsaid } = stepOf("hold", ["ColorSub_C"]);
    expect(expression("weighed", unsaid)).toBe(1);
    expect(expression("turned", unsaid)).toBe(1);
  });
});

describe("a check in which nothing was reported says what it could not show", () => {
  const check = runWith({})
    .filter(({ routine }) => routine !== "shake")
    .map((one) => ({ ...one, circumstances: USUAL }));

  test.each<readonly [CircumstanceId, Observation]>([
    ["hot", stepOf("sweep", ["ColorSub_C"], {}, 10)],
    ["tipped", stepOf("sweep", ["ColorSub_C"], { tilt: [40, 40], leanings: "two" })],
    ["shaken", stepOf("shake", ["Pan", "Tilt"])],
    ["together", stepOf("snap", ["Pan", "Tilt", "Zoom", "Focus1", "Iris", "ColorSub_C"])],
  ])("%s, until a step was watched so", (id, step) => {
    expect(untriedIn(check)).toContain(id);
    expect(untriedIn([...check, step])).not.toContain(id);
    expect(untriedIn([...check, { ...step, result: "not-watched", watched: "no" }])).toContain(id);
  });

  test("at full speed too, where both axes were only swept slowly", () => {
    const slow = check.filter(({ routine }) => !["snap", "power-up", "return"].includes(routine));
    expect(untriedIn(check)).not.toContain("fast");
    expect(untriedIn(slow)).toContain("fast");
  });

  test("one of several words: nothing is left when everything was tried", () => {
    const all = [
      ...check,
      stepOf("sweep", ["ColorSub_C"], { tilt: [40, 40], leanings: "two" }, 10),
      stepOf("shake", ["Pan", "Tilt"]),
      stepOf("snap", ["Pan", "Tilt", "Zoom", "Focus1", "Iris", "ColorSub_C"]),
    ];
    expect(untriedIn(all)).toEqual([]);
  });
});

const bench = shippedBench();
const kindsOf = (offer: TryOut | undefined) => offer?.tests.map(({ under }) => under) ?? [];
const hotIn = (offers: readonly TryOut[]) => offers.find((offer) => kindsOf(offer).includes("hot"));
const offersOf = (advice: Advice): readonly TryOut[] => (advice.kind === "nothing-found" ? advice.offers : []);

describe("and offers what would most likely bring something to light", () => {
  const spot = shippedProfile("spot-16bit");
  const clean = runWith({})
    .filter(({ routine }) => routine !== "shake")
    .map((one) => ({ ...one, circumstances: USUAL }));
  const asked = (run: readonly Observation[]) => whatNext(SPOT, run, [], [], undefined, drivableOn(spot, bench));

  test("what takes seconds is one offer, and what has to get hot another: each kind that was not tried once, with a reason", () => {
    const [short, hot, ...more] = offersOf(asked(clean));
    expect(more).toEqual([]);
    expect(kindsOf(short)).toEqual(expect.arrayContaining(["tipped", "shaken"]));
    expect(new Set(kindsOf(short)).size).toBe(kindsOf(short).length);
    expect(kindsOf(hot)).toEqual([...kindsOf(short), "hot"]);
    for (const under of kindsOf(hot)) expect(untriedIn(clean)).toContain(under);
    for (const offer of [short, hot]) expect(offer?.reason).toMatch(/^may show: /);
    expect(short!.minutes).toBeLessThan(3);
    expect(hot!.minutes).toBeGreaterThan(7);
    expect(hot!.chance).toBeGreaterThan(short!.chance);
  });

  test("what brings most to light in a minute comes first", () => {
    const perMinute = offersOf(asked(clean)).map(({ chance, minutes }) => chance / minutes);
    expect(perMinute).toEqual(perMinute.toSorted((a, b) => b - a));
  });

  test("one key and one way to where it begins are paid for once, and each further step has a question of its own", () => {
    const [short] = offersOf(asked(clean));
    const alone = short!.tests.map((one) => minutesOf([one]));
    expect(short!.minutes).toBe(minutesOf(short!.tests));
    expect(short!.minutes).toBeLessThan(alone.reduce((sum, one) => sum + one, 0) - 0.3 * (alone.length - 1));
    expect(short!.minutes).toBeGreaterThan(Math.max(...alone));
  });

  const soakOf = (offer: TryOut | undefined) =>
    offer?.tests.flatMap(({ steps }) => steps).find(({ routine }) => routine === "soak")?.options.seconds ?? 0;

  test("what binds when warm is looked for after the light was on for ten minutes, not before: what is watched meanwhile counts", () => {
    const hot = hotIn(offersOf(asked(clean)));
    const before = hot!.tests.filter(({ under }) => under !== "hot").reduce((sum, { seconds }) => sum + seconds, 0);
    expect(before).toBeGreaterThan(20);
    expect(soakOf(hot)).toBeLessThan(420);
    expect(soakOf(hot) + before).toBeGreaterThanOrEqual(420);
    expect(soakOf(hot) + before).toBeLessThan(440);
    expect(hot?.tests.at(-1)?.steps.flatMap(({ functions }) => functions)).toEqual(
      expect.arrayContaining(["ColorSub_C", "Zoom", "Dimmer"]),
    );
  });

  test("the reason of the hot test is what only heat shows", () => {
    expect(hotIn(offersOf(asked(clean)))?.reason).toMatch(/warm|filter|fan/);
  });

  test("done once and quiet, the short ones are not offered again: the hot one is next, by itself", () => {
    const [, hot] = offersOf(asked(clean));
    const done = [
      ...clean,
      stepOf("shake", ["Pan", "Tilt", "Frost1"]),
      stepOf("sweep", ["Zoom"], { tilt: [40, 40], leanings: "two" }),
      stepOf("snap", ["Pan", "Tilt", "Zoom", "Focus1", "Iris", "ColorSub_C"], {}, 4),
    ];
    const next = offersOf(asked(done));
    expect(next.map(kindsOf)).toEqual([["hot"]]);
    expect(next[0]!.minutes).toBeLessThan(hot!.minutes);
    expect(soakOf(next[0])).toBe(360);
  });

  test("done once and quiet, the hot one is not offered again", () => {
    const hot = stepOf("sweep", ["ColorSub_C", "ColorSub_M", "ColorSub_Y", "CTO"], {}, 11);
    expect(hotIn(offersOf(asked([...clean, hot])))).toBeUndefined();
  });

  test("nobody becomes a suspect by an offer: the ranking has no part in it", () => {
    expect(asked(clean)).not.toHaveProperty("on");
  });

  test("on a bench where the beam may not lean it is said, and not offered", () => {
    const narrow = { ...bench, sector: { ...bench.sector, tilt: [5, 15] as const } };
    const advice = whatNext(SPOT, clean, [], [], undefined, drivableOn(spot, narrow));
    expect(advice.kind === "nothing-found" && advice.untried).toContain("tipped");
    expect(offersOf(advice).flatMap(kindsOf)).not.toContain("tipped");
  });
});

const KINDS = ["spot-16bit", "beam", "wash", "led-wash", "scanner", "framing"] as const;

test.each(KINDS)(
  "%s: all that is offered in a clean check fits, with the light in view where light is looked at",
  (name) => {
    const profile = shippedProfile(name);
    const fitted = fittedOf(profile);
    const clean = fitted.map((one): Observation => ({ ...stepOf("sweep", []), functions: [one] }));
    const offers = offersOf(whatNext(fitted, clean, [], [], undefined, drivableOn(profile, bench)));
    expect(offers.length).toBeGreaterThan(0);
    for (const { under, steps } of offers.flatMap(({ tests }) => tests))
      for (const { routine, functions, options } of steps) {
        const step = compileStep(
          profile,
          bench,
          { id: "added", line: 0, routine, functions, options },
          profile.rest,
          1,
        );
        expect([under, routine, functions, step.fitted]).toEqual([under, routine, functions, true]);
        if (under !== "fast")
          expect([under, routine, functions, step.beam]).toEqual([under, routine, functions, "open"]);
      }
  },
);

describe.each(KINDS)("%s: what would show as usual is no gain of a circumstance", (name) => {
  const profile = shippedProfile(name);
  const probes = probesFor(fittedOf(profile), drivableOn(profile, bench), 3);
  const watched = (steps: readonly { readonly routine: RoutineId; readonly functions: readonly FunctionId[] }[]) =>
    steps.flatMap(({ functions }) => functions);

  test("it is compared with the same parts, also with the axes that shake the others, and with what moves while it warms up", () => {
    for (const { under, steps, usually } of probes.filter((one) => one.under !== "as usual"))
      expect([under, new Set(watched(usually.flat()))]).toEqual([under, new Set(watched(steps))]);
  });

  test("who leans a part to both sides has moved it twice, and twice as usual is what it is compared with", () => {
    for (const { steps, usually } of probes.filter(({ under }) => under === "tipped"))
      for (const alternative of usually) expect(watched(alternative).toSorted()).toEqual(watched(steps).toSorted());
  });
});
