import { describe, expect, test } from "vitest";
import { type Advice, type Offer, whatNext } from "../../src/faults/next.ts";
import type { InspectionAnswer, Observation } from "../../src/faults/observation.ts";
import { inspection } from "../../src/trade/inspections.ts";
import { runWith, SPOT } from "./spot.ts";

const offersOf = (advice: Advice): readonly Offer[] => (advice.kind === "offers" ? advice.offers : []);
const name = (offer: Offer) =>
  offer.kind === "driven" ? `${offer.routine} ${offer.function ?? "fixture"}` : offer.inspection;
const noisyIris = runWith({ "sweep Iris": ["grinds"] });

describe("when there is nothing more to do", () => {
  test("a clean run is settled on nothing broken", () => {
    expect(whatNext(SPOT, runWith({}))).toEqual({ kind: "settled", on: "nothing-broken" });
  });

  test("a look that tells plainly settles it", () => {
    const answers = [{ inspection: "iris-leaves", answer: "bad" }] as const;
    expect(whatNext(SPOT, noisyIris, answers)).toEqual({ kind: "settled", on: "iris-leaf-bent" });
  });

  test("one weak symptom, every look behind it good: nothing is worth the minutes", () => {
    const run = runWith({ "sweep Zoom": ["whines"] });
    let answers: readonly InspectionAnswer[] = [];
    let advice = whatNext(SPOT, run, answers);
    for (let i = 0; i < 20 && advice.kind === "offers"; i++) {
      const look = advice.offers.find(({ kind }) => kind === "inspection");
      if (look?.kind !== "inspection") break;
      answers = [...answers, { inspection: look.inspection, answer: "good" }];
      advice = whatNext(SPOT, run, answers);
    }
    expect(answers.map(({ inspection: id }) => id)).toContain("zoom-by-hand");
    expect(advice.kind).not.toBe("offers");
  });
});

describe("the best three", () => {
  test("to make sure of a doubtful symptom, move the same thing again before a cover comes off", () => {
    const [first] = offersOf(whatNext(SPOT, runWith({ "sweep Iris": ["slow"] })));
    expect(first).toMatchObject({ kind: "driven", routine: "sweep", function: "Iris", seconds: 10 });
    expect(first!.reason).toBe("would make sure: shows again if it is iris leaves burnt or dry");
  });

  test("reported twice, the look by hand comes first", () => {
    const twice: readonly Observation[] = [
      ...noisyIris,
      ...runWith({ "sweep Iris": ["grinds"] }).filter((one) => one.result === "fail"),
    ];
    const [first] = offersOf(whatNext(SPOT, twice));
    expect(first).toMatchObject({ kind: "inspection", inspection: "iris-leaves", cover: "head", minutes: 3.5 });
    expect(first!.reason).toBe("would find: iris leaf bent, or iris leaves burnt or dry");
  });

  test.each([
    ["iris", noisyIris],
    ["pan", runWith({ "sweep Pan": ["jerks"] })],
    ["whole fixture", runWith({ "shake Pan": ["reset-itself"] })],
    ["only one step watched", noisyIris.filter(({ result }) => result === "fail")],
  ])("fewest minutes first, each once, each with a reason, a look by hand among them: %s", (_, run) => {
    const offers = offersOf(whatNext(SPOT, run));
    expect(offers.length).toBeGreaterThan(0);
    expect(offers.length).toBeLessThanOrEqual(3);
    expect(offers.some(({ kind }) => kind === "inspection")).toBe(true);
    expect(new Set(offers.map(name)).size).toBe(offers.length);
    const minutes = offers.map(({ expectedMinutes }) => expectedMinutes);
    expect(minutes).toEqual([...minutes].sort((a, b) => a - b));
    for (const { reason } of offers) expect(reason).toMatch(/^would (find|part|make sure): \S/);
  });
});

describe("planned again after every answer", () => {
  test("what was answered is not asked again", () => {
    const before = offersOf(whatNext(SPOT, noisyIris)).map(name);
    const look = offersOf(whatNext(SPOT, noisyIris)).find(({ kind }) => kind === "inspection")!;
    const answers = [{ inspection: name(look) as "iris-leaves", answer: "good" as const }];
    expect(before).toContain(name(look));
    expect(offersOf(whatNext(SPOT, noisyIris, answers)).map(name)).not.toContain(name(look));
  });

  test("behind a cover that is off already a look costs its own minutes only", () => {
    const shut = offersOf(whatNext(SPOT, noisyIris)).find((one) => one.kind === "inspection");
    const open = offersOf(whatNext(SPOT, noisyIris, [], ["head"])).find((one) => one.kind === "inspection");
    expect(shut!.minutes).toBe(3 + inspection(shut!.inspection).minutes);
    expect(open!.minutes).toBe(inspection(open!.inspection).minutes);
    expect(open!.expectedMinutes).toBeLessThan(shut!.expectedMinutes);
  });
});

test("a test is offered where it parts faults behind different covers", () => {
  const shut = runWith({ "sweep Pan": ["jerks"] }).filter(
    ({ functions, routine }) => functions[0]?.function === "Pan" && routine === "sweep",
  );
  const offers = offersOf(whatNext(SPOT, shut));
  expect(offers[0]).toMatchObject({ kind: "driven" });
});
