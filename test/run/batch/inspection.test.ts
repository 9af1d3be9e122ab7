import { describe, expect, test } from "vitest";
import { holdsBefore, inspection } from "../../../src/domain/trade/inspections.ts";
import { memberAt } from "../../../src/run/batch/batch.ts";
import { DrivenRack, spots } from "../../kit/driven-rack.ts";

const aloneIn = ({ batch }: DrivenRack) => {
  if (batch.stage.kind !== "alone") throw new Error(`nobody is alone: ${batch.stage.kind}`);
  return memberAt(batch, batch.stage.member);
};
const stageOf = (rack: DrivenRack) => aloneIn(rack).session.stage;

/** Two fixtures swept together; the first differed, was swept alone, and its cyan was heard to grind. */
const groundAlone = (): DrivenRack => {
  const rack = new DrivenRack({ fixtures: spots(2), steps: ["sweep: ColorSub_C", "sweep: Iris"] }).begin();
  rack.untilStage("moving").differs("S1").untilStage("alone");
  rack.until(() => stageOf(rack).kind === "asking");
  return rack.send({ kind: "symptom", symptom: { symptom: "grinds", function: "ColorSub_C" } }).send({
    kind: "judge",
    result: "fail",
  });
};

const lookOffered = (rack: DrivenRack) => {
  const stage = stageOf(rack);
  const offers = stage.kind === "what-next" ? stage.offers : [];
  const offer = offers.findIndex(({ kind }) => kind === "inspection");
  const chosen = offers[offer];
  if (chosen?.kind !== "inspection") throw new Error("no inspection is offered");
  return { offer, id: chosen.inspection };
};

/** Every hold point on the way is confirmed. */
const throughHolds = (rack: DrivenRack): readonly string[] => {
  const points: string[] = [];
  for (let stage = stageOf(rack); stage.kind === "by-hand" && stage.task.kind === "hold-point"; stage = stageOf(rack)) {
    points.push(stage.task.point);
    rack.send({ kind: "confirm" });
  }
  return points;
};

describe("an inspection chosen by its key, of the fixture of a rack that is alone", () => {
  test("is asked for behind its hold points", () => {
    const rack = groundAlone();
    const { offer, id } = lookOffered(rack);
    rack.send({ kind: "choose", offer });
    expect(throughHolds(rack)).toEqual(holdsBefore(id));
    expect(stageOf(rack)).toMatchObject({ kind: "by-hand", task: { kind: "look", inspection: id } });
    expect(inspection(id).cover, "a cover comes off, so power goes first").toBe("head");
  });

  test("its answer goes into that fixture's own run, moves its ranking, and nothing of the other changes", () => {
    const rack = groundAlone();
    const [, other] = rack.batch.members;
    const before = aloneIn(rack).session.diagnosed?.diagnosis.ranking.faults[0];
    const { offer, id } = lookOffered(rack);
    rack.send({ kind: "choose", offer });
    throughHolds(rack);
    rack.send({ kind: "judge", result: "fail" });
    expect(aloneIn(rack).session.view.inspected).toMatchObject([{ inspection: id, answer: "bad" }]);
    expect(aloneIn(rack).session.diagnosed?.diagnosis.ranking.faults[0]?.probability).toBeGreaterThan(
      before?.probability ?? 1,
    );
    expect(rack.batch.members[1]?.session.view).toEqual(other?.session.view);
  });

  test("after it the fixture stays isolated and open for its repair, and the rack comes to its end", () => {
    const rack = groundAlone();
    const { offer, id } = lookOffered(rack);
    rack.send({ kind: "choose", offer });
    throughHolds(rack);
    rack.send({ kind: "judge", result: "fail" }).untilStage("finished");
    const confirmed = rack.batch.members.map(({ session }) => session.view.confirmed.map(({ point }) => point));
    expect(confirmed).toEqual([["before-moving", ...holdsBefore(id)], []]);
    expect(rack.closed()).toEqual({ S1: "finished", S2: "finished" });
  });
});
