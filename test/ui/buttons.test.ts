import { readdirSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { symptomWords } from "../../src/domain/trade/symptoms.ts";
import { guardedBy } from "../../src/run/batch/guarded.ts";
import { choicesAt } from "../../src/ui/choices.ts";
import { clearDesk } from "../../src/ui/sight.ts";
import { pagesOf } from "../../src/ui/symptom-pages.ts";
import { oneOfADozen } from "../kit/diagnosed.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { shippedProfile } from "../kit/shipped.ts";
import { AGREE, drawnOf, PLAN, Typist } from "./sights.ts";

const PRESS = "space";
const AGAIN = "a";

/** At the question of one step in which somebody pressed once. */
const pressedIn = (step: string, profile = "spot-16bit") => {
  const run = new Driven(jobOf([step, "sweep: Pan"], {}, profile)).started();
  return new Typist(run.send({ kind: "press" }, 40).playOut());
};

const routineFor = (kind: string | undefined, id: string): string =>
  id.endsWith("Pos") ? "rotate" : kind === "travel" ? "sweep" : kind === "wheel" ? "step-through" : "in-and-out";

const SHIPPED = readdirSync("profiles").flatMap((file) => (file.endsWith(".yaml") ? [file.slice(0, -5)] : []));

/** Commands are sent, and nobody watches them travel. */
const isWatched = (id: string): boolean => !["Control1", "LampControl", "Fans"].includes(id);

/** Every function of every shipped profile once, in the first that has it. */
const WATCHED = SHIPPED.flatMap((name) =>
  [...shippedProfile(name).functions.keys()].map((id) => ({ id, name })),
).filter(({ id }, at, all) => isWatched(id) && all.findIndex((one) => one.id === id) === at);

describe("three buttons are enough", () => {
  test("every function that moves or shines is among them", () => {
    const all = SHIPPED.flatMap((name) => [...shippedProfile(name).functions.keys()]);
    expect(WATCHED.map(({ id }) => id).toSorted()).toEqual([...new Set(all)].filter(isWatched).toSorted());
  });

  test.each(WATCHED)("$id of $name: each of its five commonest symptoms takes at most six presses", ({ id, name }) => {
    const step = `${routineFor(shippedProfile(name).functions.get(id)?.kind, id)}: ${id}`;
    const job = jobOf([step], {}, name);
    const five = pagesOf(job, 0, id)[0]!.symptoms.slice(0, 5);
    for (const [at, symptom] of five.entries()) {
      const typist = pressedIn(step, name);
      const presses = [...Array(at + 1).fill(PRESS), AGAIN];
      expect(presses.length).toBeLessThanOrEqual(6);
      typist.press(...presses);
      expect(typist.run.events("step-judged")[0]).toMatchObject({
        result: "fail",
        symptoms: [{ symptom, function: id }],
      });
    }
  });

  test("the marked answer stands on the page, and in large letters from afar", () => {
    const typist = pressedIn("sweep: Pan").press(PRESS);
    const [first] = pagesOf(jobOf(["sweep: Pan"]), 0, "Pan")[0]!.symptoms;
    expect(typist.page()).toContain(`> ${symptomWords(first!)}  (A: this one; SPACE: the next)`);
    const far = typist.page({ letters: "several rows high", size: { columns: 120, rows: 40 } });
    expect(far).not.toContain("WHAT DID YOU SEE?");
  });

  test("a quiet step: the first answer is that nothing was wrong", () => {
    const typist = new Typist(new Driven(jobOf(["sweep: Pan", "sweep: Iris"])).started().playOut());
    typist.press(PRESS, AGAIN);
    expect(typist.run.results()["sweep-pan"]).toBe("pass");
  });

  test("without a mark the again button plays the step again, as it always did", () => {
    const typist = pressedIn("sweep: Pan").press(AGAIN);
    expect(typist.run.session.stage).toMatchObject({ kind: "moving", index: 0, attempt: 2 });
  });

  test("after a continuous group it is confirmed, or not, by the buttons alone", () => {
    const run = new Driven(jobOf(["sweep: Pan"], { mode: "hands-off" })).started().send({ kind: "here" }).playOut();
    expect(run.session.stage.kind).toBe("confirming");
    new Typist(run).press(PRESS, AGAIN);
    expect(run.results()["sweep-pan"]).toBe("pass");
  });

  test("whatever choices are taken, every question that is not guarded has some", () => {
    const steps = ["sweep: Pan", "sweep: [ColorSub_C, ColorSub_M]", "step-through: Gobo1"];
    const diagnose = oneOfADozen();
    fc.assert(
      fc.property(fc.array(fc.nat({ max: 11 }), { minLength: 30, maxLength: 30 }), (picks) => {
        const run = new Driven(jobOf(steps));
        run.diagnose = diagnose;
        const typist = new Typist(run.started());
        for (const pick of picks) if (typist.run.session.stage.kind !== "finished") onwards(typist, pick);
      }),
      { numRuns: 60 },
    );
  });
});

/** One thing happens: a movement ends, a guarded page gets its letter, or a choice is taken by the buttons. */
const onwards = (typist: Typist, pick: number): void => {
  const { run } = typist;
  const { stage } = run.session;
  if (stage.kind === "at-spot") typist.press(AGAIN);
  else if (stage.kind === "moving") {
    for (const frame of pick % 3 === 0 ? [150, 300] : []) run.send({ kind: "press" }, frame);
    run.playOut();
  } else if (["slow-start", "stirring"].includes(stage.kind)) run.playOut();
  else if (guardedBy(stage)) typist.press(AGREE);
  else {
    const choices = choicesAt(drawnOf(run.session).batch, clearDesk(undefined), PLAN);
    expect(choices.length, stage.kind).toBeGreaterThan(0);
    typist.press(...Array((pick % choices.length) + 1).fill(PRESS), AGAIN);
  }
};
