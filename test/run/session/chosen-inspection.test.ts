import { describe, expect, test } from "vitest";
import type { Offer } from "../../../src/diagnosis/model/offer.ts";
import { holdsBefore, inspection } from "../../../src/domain/trade/inspections.ts";
import { type Diagnosis, diagnose } from "../../../src/run/machine/diagnose.ts";
import type { Offered } from "../../../src/run/session/offered.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { offeredLook, offeredSweep } from "../../kit/offers.ts";

/** Cyan was heard to grind, and everything else that is asked is answered. */
const grinding = (steps: readonly string[] = ["sweep: ColorSub_C", "sweep: Pan"]): Driven => {
  const run = new Driven(jobOf(steps)).started().playOut();
  run.send({ kind: "symptom", symptom: { symptom: "grinds", function: "ColorSub_C" } }).send({ kind: "confirm" });
  while (run.session.stage.kind === "moving") run.playOut().send({ kind: "judge", result: "pass" });
  return run;
};
const offersOf = ({ session: { stage } }: Driven): readonly Offered[] =>
  stage.kind === "what-next" ? stage.offers : [];
const lookIn = (run: Driven): { readonly at: number; readonly id: Parameters<typeof inspection>[0] } => {
  const at = offersOf(run).findIndex((offer) => offer.kind === "inspection" && offer.cover === "head");
  const offer = offersOf(run)[at];
  if (offer?.kind !== "inspection") throw new Error("no inspection behind a cover is offered");
  return { at, id: offer.inspection };
};
/** Every hold point is confirmed that stands before it. */
const throughHolds = (run: Driven): readonly string[] => {
  const points: string[] = [];
  while (run.session.stage.kind === "by-hand" && run.session.stage.task.kind === "hold-point") {
    points.push(run.session.stage.task.point);
    run.send({ kind: "confirm" });
  }
  return points;
};

/** The diagnosis that was asked for, with other offers than its own. */
const foundTo = (run: Driven, chosen: (offers: readonly Offer[]) => readonly Offer[]): Driven => {
  const asked = run.effects.findLast((effect) => effect.kind === "diagnose");
  if (!asked) throw new Error("nobody asked for a diagnosis");
  const found = diagnose(asked.findings);
  const offers = chosen(found.advice.kind === "offers" ? found.advice.offers : []);
  const diagnosis: Diagnosis = { ...found, advice: { kind: "offers", offers }, places: [] };
  return run.send({ kind: "diagnosed", answers: asked.key, diagnosis });
};

const SWEPT_AGAIN = offeredSweep("ColorSub_C");

describe("an inspection that is chosen by its key", () => {
  test("is asked for behind its hold points, the power off and locked off where a cover comes off", () => {
    const run = grinding();
    const { at, id } = lookIn(run);
    run.send({ kind: "choose", offer: at });
    expect(throughHolds(run)).toEqual(holdsBefore(id));
    expect(run.session.stage).toMatchObject({ kind: "by-hand", task: { kind: "look", inspection: id } });
    expect(run.effects.filter(({ kind }) => kind === "mains-off")).toHaveLength(1);
  });

  test("its answer is kept and moves the ranking, and what could still tell more is offered anew", () => {
    const run = grinding();
    const before = run.session.diagnosed!.diagnosis.ranking;
    const { at, id } = lookIn(run);
    run.send({ kind: "choose", offer: at });
    throughHolds(run);
    run.send({ kind: "judge", result: "fail" });
    expect(run.events("inspected")).toMatchObject([{ inspection: id, answer: "bad" }]);
    const after = run.session.diagnosed!.diagnosis;
    const beliefIn = (ranking: typeof before, fault: string) =>
      ranking.faults.find((one) => one.id === fault)?.probability ?? 0;
    const [first] = after.ranking.faults;
    expect(beliefIn(after.ranking, first!.id)).toBeGreaterThan(beliefIn(before, first!.id));
    expect(after.change).toMatch(/the last inspection/i);
    expect(offersOf(run).some((offer) => offer.kind === "inspection" && offer.inspection === id)).toBe(false);
  });

  test("a movement after it is behind closing and a watched power-up, never at once", () => {
    const run = grinding(["sweep: ColorSub_C", "sweep: Pan"]);
    run.diagnosis = "by hand";
    run.send({ kind: "choose", offer: lookIn(run).at });
    throughHolds(run);
    run.send({ kind: "judge", result: "pass" });
    foundTo(run, () => [SWEPT_AGAIN]);
    run.send({ kind: "choose", offer: 0 });
    expect(throughHolds(run)).toEqual(["nothing-loose", "covers-on"]);
    expect(run.session.stage).toMatchObject({ kind: "holding", point: "mains-on" });
    run.send({ kind: "confirm" });
    expect(run.session.stage).toMatchObject({ kind: "moving", step: { routine: "power-up" } });
  });

  test("undo at its page takes the hold point back, and the inspection is still the next", () => {
    const run = grinding();
    const { at, id } = lookIn(run);
    run.send({ kind: "choose", offer: at });
    const points = throughHolds(run);
    run.send({ kind: "undo" });
    expect(run.session.stage).toMatchObject({ kind: "by-hand", task: { kind: "hold-point", point: points.at(-1) } });
    throughHolds(run);
    expect(run.session.stage).toMatchObject({ kind: "by-hand", task: { kind: "look", inspection: id } });
  });
});

describe("with a cover off one goes on to what else is worth it behind it", () => {
  const BEHIND_THE_HEAD = [
    "flag-glass",
    "iris-leaves",
    "iris-lever",
    "prism-spring",
    "frost-flat",
    "zoom-rod",
  ] as const;
  /** The first is chosen and answered; then the model has these to offer. */
  const answered = (result: "pass" | "fail" | "unsure" | "not-asked", then: readonly Offer[]) => {
    const run = grinding();
    run.diagnosis = "by hand";
    run.send({ kind: "choose", offer: lookIn(run).at });
    throughHolds(run);
    run.send({ kind: "judge", result });
    return foundTo(run, () => then);
  };

  test("the next is asked for at once, without a key and without a hold point", () => {
    const run = answered("pass", [offeredLook("iris-leaves"), SWEPT_AGAIN]);
    expect(run.session.stage).toMatchObject({ kind: "by-hand", task: { kind: "look", inspection: "iris-leaves" } });
  });

  test.each([
    ["one was bad: that wants to be thought about", "fail", offeredLook("iris-leaves")],
    ["somebody left one out", "not-asked", offeredLook("iris-leaves")],
    ["it lies behind another cover", "pass", offeredLook("pan-belt-tension")],
    ["a movement would tell more", "pass", SWEPT_AGAIN],
  ] as const)("what next is asked where %s", (_, result, offer) => {
    expect(offersOf(answered(result, [offer, offeredLook("iris-lever")])).map(({ kind }) => kind)).toEqual([
      offer.kind,
      "inspection",
    ]);
  });

  test("after five good ones in a row it is asked what next", () => {
    const [first, ...others] = BEHIND_THE_HEAD;
    const run = answered("pass", [offeredLook(first)]);
    for (const id of others.slice(0, 4)) {
      expect(run.session.stage.kind).toBe("by-hand");
      run.send({ kind: "judge", result: "pass" });
      foundTo(run, () => [offeredLook(id)]);
    }
    expect(run.events("inspected")).toHaveLength(5);
    expect(run.session.stage.kind).toBe("what-next");
  });

  test("a cover that is off costs nothing any more", () => {
    const run = grinding();
    run.diagnosis = "by hand";
    run.send({ kind: "choose", offer: lookIn(run).at });
    throughHolds(run);
    run.send({ kind: "judge", result: "pass" });
    const asked = run.effects.findLast((effect) => effect.kind === "diagnose")!;
    const { advice } = diagnose(asked.findings);
    const behind = (advice.kind === "offers" ? advice.offers : []).flatMap((offer) =>
      offer.kind === "inspection" && offer.cover === "head" ? [offer] : [],
    );
    expect(behind.length).toBeGreaterThan(0);
    for (const offer of behind) expect(offer.minutes).toBe(inspection(offer.inspection).minutes);
  });
});

/** As if nothing but inspections would tell more. */
const onlyInspections = (steps: readonly string[]): Driven => {
  const run = new Driven(jobOf(steps)).started();
  run.diagnosis = "by hand";
  run.playOut();
  run.send({ kind: "symptom", symptom: { symptom: "grinds", function: "ColorSub_C" } }).send({ kind: "confirm" });
  return foundTo(run, (offers) => offers.filter(({ kind }) => kind === "inspection"));
};

test("where only inspections would tell more, a run that opens nothing by itself offers them before it ends", () => {
  const run = onlyInspections(["sweep: ColorSub_C"]);
  expect(run.session.stage.kind).toBe("what-next");
  expect(new Set(offersOf(run).map(({ kind }) => kind))).toEqual(new Set(["inspection"]));
});

test("a run that opens it anyway asks for its inspections when it is open", () => {
  const run = onlyInspections(["sweep: ColorSub_C", "hold-point: opening", "inspect: proposed"]);
  expect(run.session.stage).toMatchObject({ kind: "by-hand", task: { kind: "hold-point", point: "isolated" } });
});
