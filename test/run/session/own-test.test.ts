import { describe, expect, test } from "vitest";
import { offeredInWords } from "../../../src/reports/next-words.ts";
import type { FixtureSaid } from "../../../src/run/events/fixture-said.ts";
import { observationsOf } from "../../../src/run/events/observations.ts";
import { wantedOf } from "../../../src/run/session/asked.ts";
import type { Stage } from "../../../src/run/session/session.ts";
import { timeLeftInWords } from "../../../src/ui/step-words.ts";
import { markOf } from "../../../src/ui/travel-rows.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { shippedProfile } from "../../kit/shipped.ts";
import { sightOf } from "../../ui/sights.ts";

const SAID: FixtureSaid = {
  kind: "fixture-said",
  ...{ uid: "7FF0:00000002", maker: "", model: "", label: "", software: "", serial: "A-17", address: 1 },
  mode: { number: 1, count: 2, name: "", slots: 30 },
  counters: {},
  ...{ settings: {}, sensors: [], status: [], slots: [], troubles: [] },
  self_tests: [
    { number: 1, words: "Pan and tilt" },
    { number: 2, words: "Wheels" },
  ],
};

/** A run whose only step failed, of a fixture that has told which tests it has of its own. */
const afterAFail = (said: FixtureSaid | "never heard" = SAID): Driven => {
  const driven = new Driven(jobOf(["{ step-through: Gobo1, dwell_s: 1 }"])).started();
  if (said !== "never heard") driven.send({ kind: "fixture-said", body: said });
  driven.playOut();
  driven.send({ kind: "symptom", symptom: { symptom: "keeps-homing", function: "Gobo1" } });
  return driven.send({ kind: "judge", result: "fail" });
};
const offered = ({ session: { stage } }: Driven): Extract<Stage, { kind: "what-next" }>["offers"] =>
  stage.kind === "what-next" ? stage.offers : [];
const ownTests = (driven: Driven) => offered(driven).filter(({ kind }) => kind === "own-test");
const begun = (driven: Driven, number: number): Driven => {
  const offer = offered(driven).findIndex((one) => one.kind === "own-test" && one.number === number);
  driven.send({ kind: "choose", offer });
  if (driven.session.stage.kind === "holding") driven.send({ kind: "confirm" });
  if (driven.session.stage.kind === "slow-start") driven.playOut();
  return driven;
};

describe("the fixture's own tests", () => {
  test("stand after ours among what could tell more, by the names that the fixture gives them", () => {
    const all = offered(afterAFail());
    expect(all.findIndex(({ kind }) => kind === "own-test")).toBeGreaterThan(0);
    expect(ownTests(afterAFail()).map(offeredInWords)).toEqual([
      'the fixture\'s own test 1, "Pan and tilt", 2 min at most; it moves by its own program and says itself what it finds',
      'the fixture\'s own test 2, "Wheels", 2 min at most; it moves by its own program and says itself what it finds',
    ]);
  });

  test("are not there for a fixture that has told of none, or was never heard", () => {
    expect(ownTests(afterAFail({ ...SAID, self_tests: [] }))).toEqual([]);
    expect(ownTests(afterAFail("never heard"))).toEqual([]);
  });

  test("begin with a digit: dark and still is sent, the page tells to stand clear, and the fixture is told to begin", () => {
    const { session } = begun(afterAFail(), 2);
    if (session.stage.kind !== "moving") throw new Error(session.stage.kind);
    const { step } = session.stage;
    expect([step.routine, step.id, step.moves]).toEqual(["self-test", "added-1-self-test-2", []]);
    expect(timeLeftInWords(session, session.stage, 0)).toBe(
      "At most 2 min 1 s left in this step, 2 min 1 s to the end.",
    );
    // Nobody commands where it is: no mark and no lag are drawn.
    expect(markOf(sightOf(session), session.stage, "Pan").told.share).toBeUndefined();
    expect(step.watch).toContain('its own test 2, "Wheels"');
    expect(step.watch).toContain("only its mains stops it for certain");
    expect(wantedOf(session, "while it stands")).toMatchObject({
      kind: "own-test",
      test: { test: 2, step: "added-1-self-test-2", attempt: 1 },
    });
  });

  test("end when the fixture says so: what it said is noted, and a person says what they saw", () => {
    const driven = begun(afterAFail(), 2);
    driven.at += 20;
    driven.send({ kind: "own-test-over", words: "its own test is over; it reports nothing" });
    expect(driven.session.stage).toMatchObject({ kind: "asking", note: "its own test is over; it reports nothing" });
    driven.send({ kind: "judge", result: "pass" });
    expect(driven.events("step-judged").at(-1)).toMatchObject({
      step: "added-1-self-test-2",
      result: "pass",
      note: "its own test is over; it reports nothing",
    });
    expect(observationsOf(driven.session.view, shippedProfile("spot-16bit")).at(-1)?.result).toBe("pass");
  });

  test("count for the fault model as the reset that they are like", () => {
    const driven = begun(afterAFail(), 2).send({ kind: "own-test-over", words: "over" });
    driven
      .send({ kind: "symptom", symptom: { symptom: "grinds", function: "Gobo1" } })
      .send({ kind: "judge", result: "fail" });
    const evidence = observationsOf(driven.session.view, shippedProfile("spot-16bit"));
    expect(evidence.map(({ routine }) => routine)).toEqual(["step-through", "home"]);
  });

  test("that were run are not offered again; the others are", () => {
    const driven = begun(afterAFail(), 2).send({ kind: "own-test-over", words: "over" });
    driven.send({ kind: "judge", result: "pass" });
    expect(ownTests(driven)).toEqual([{ kind: "own-test", number: 1, words: "Pan and tilt" }]);
  });

  test("whose end comes when nobody waits for it any more change nothing", () => {
    const driven = afterAFail();
    const before = driven.session.stage;
    driven.send({ kind: "own-test-over", words: "over" });
    expect(driven.session.stage).toEqual(before);
  });
});
