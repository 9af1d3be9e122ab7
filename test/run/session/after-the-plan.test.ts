import { describe, expect, test } from "vitest";
import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import { rawAt } from "../../../src/plan/sample.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { shippedProfile } from "../../kit/shipped.ts";

describe("identify: nothing or the wrong thing moves", () => {
  const short = shippedProfile("spot-8bit");
  const wrongly = (symptom: "nothing-moves" | "wrong-thing") =>
    new Driven({ ...jobOf(["identify: fixture", "sweep: Iris"], { address: 101 }), otherModes: [short] })
      .started()
      .playOut()
      .send({ kind: "symptom", symptom: { symptom } })
      .send({ kind: "confirm" });

  /** Answers every question as a fixture would that stands so many slots further on. */
  const answeredFrom = (run: Driven, offset: number) => {
    const { profile } = run.session.job.timeline;
    while (run.session.stage.kind === "stirring") {
      const { ask } = run.playOut().session.stage as { ask: FunctionId };
      const slots = profile.functions.get(ask)!.slots;
      const moved = [...profile.functions].find(([, spec]) => slots.includes(spec.slots[0]! + offset));
      run.send({ kind: "moved", what: moved?.[0] ?? "nothing" });
    }
    return run;
  };

  test("one function after another is stirred until the setting is settled, and every answer is kept", () => {
    const run = answeredFrom(wrongly("wrong-thing"), 1);
    expect(run.session.stage).toMatchObject({ kind: "setting-found" });
    const { stage } = run.session;
    expect(stage.kind === "setting-found" && stage.conclusion.settled?.words).toBe(
      "its address is off by one: it stands at 102, not 101",
    );
    expect(run.events("identified").at(-1)?.conclusion).toBe("its address is off by one: it stands at 102, not 101");
    expect(
      run
        .events("identified")
        .slice(0, -1)
        .every(({ conclusion }) => conclusion === "can't say yet"),
    ).toBe(true);
  });

  test("put right, the fixture is identified again; left as it is, the run goes on", () => {
    const right = answeredFrom(wrongly("wrong-thing"), 1).send({ kind: "confirm" });
    // Somebody was at its panel: the area is asked about first.
    expect(right.session.stage).toMatchObject({ kind: "holding", point: "before-moving" });
    expect(right.send({ kind: "confirm" }).playOut().session.stage).toMatchObject({
      kind: "moving",
      index: 0,
      attempt: 2,
    });
    const left = wrongly("nothing-moves").playOut().send({ kind: "decline" });
    expect(left.session.stage).toMatchObject({ kind: "moving", index: 1 });
  });

  test("what is stirred moves only its coarse slot, slowly: a fine one could run through somebody's strobe", () => {
    const run = wrongly("nothing-moves");
    const stirs = run.effects.flatMap((effect) =>
      effect.kind === "play" && effect.step.id.startsWith("stir-") ? [effect.step] : [],
    );
    const [step] = stirs;
    const id = step!.functions[0]!;
    const slots = run.session.job.timeline.profile.functions.get(id)!.slots.length;
    const raws = Array.from({ length: step!.frames }, (_, n) => rawAt(step!, id, n));
    const coarse = raws.map((raw) => Math.floor(raw / 256 ** (slots - 1)));
    for (const [n, level] of coarse.entries())
      expect(Math.abs(level - (coarse[n - 1] ?? level))).toBeLessThanOrEqual(1);
    expect(new Set(raws.map((raw) => raw % 256 ** (slots - 1))).size).toBe(1);
  });

  test("any other fail of identify is not taken for a wrong setting", () => {
    const run = new Driven(jobOf(["identify: fixture", "sweep: Iris"])).started().playOut();
    run.send({ kind: "symptom", symptom: { symptom: "smells-burnt" } }).send({ kind: "confirm" });
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 1 });
  });
});

describe("when every planned step has its answer", () => {
  const unclear = () =>
    new Driven(jobOf(["sweep: Pan"]))
      .started()
      .send({ kind: "press" }, 100)
      .playOut()
      .send({ kind: "symptom", symptom: { symptom: "jerks", function: "Pan" } })
      .send({ kind: "confirm" });

  test("what could still tell more is offered, dark and still, a driven test among it", () => {
    const { session, effects } = unclear();
    expect(session.stage.kind).toBe("what-next");
    expect(session.stage.kind === "what-next" && session.stage.offers.map(({ kind }) => kind)).toContain("driven");
    expect(effects.at(-1)).toEqual({ kind: "go-dark" });
  });

  test("one key plays an offered test at once, as a step of the run, and what is offered is reckoned anew", () => {
    const run = unclear();
    const before = run.session.stage;
    const offer = before.kind === "what-next" ? before.offers.findIndex(({ kind }) => kind === "driven") : -1;
    run.send({ kind: "choose", offer }).send({ kind: "confirm" }).playOut();
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 1, attempt: 1 });
    const [added] = run.events("step-added");
    expect(added?.step.fingerprint).toMatch(/^[0-9a-f]{64}$/);
    run.playOut().send({ kind: "judge", result: "pass" });
    expect(run.results()[added!.step.id]).toBe("pass");
    expect(run.session.stage).not.toEqual(before);
  });

  test("presses that settle nothing yet call for a test that would, whatever else is offered", () => {
    const run = unclear();
    const { stage } = run.session;
    const offer = stage.kind === "what-next" ? stage.offers.findIndex(({ kind }) => kind === "follow-up") : -1;
    run.send({ kind: "choose", offer }).send({ kind: "confirm" }).playOut();
    expect(run.session.stage).toMatchObject({ kind: "moving", index: 1 });
    const [added] = run.events("step-added");
    expect(added?.step).toMatchObject({ id: "added-1-short-sweep", functions: ["Pan"] });
  });

  test("enough is enough: it ends", () => {
    expect(unclear().send({ kind: "confirm" }).session.stage).toEqual({ kind: "finished", how: "finished" });
  });

  test("with nothing wrong nothing is offered", () => {
    const run = new Driven(jobOf(["sweep: Pan"])).started().playOut().send({ kind: "judge", result: "pass" });
    expect(run.session.stage).toEqual({ kind: "finished", how: "finished" });
  });

  test("a run with added steps goes on from its events", () => {
    const run = unclear();
    const stage = run.session.stage;
    run.send({
      kind: "choose",
      offer: stage.kind === "what-next" ? stage.offers.findIndex(({ kind }) => kind === "driven") : -1,
    });
    const again = new Driven(run.session.job, run.bodies).started();
    expect(again.session.stage).toMatchObject({ kind: "moving", index: 1 });
  });
});
