import { expect, test } from "vitest";
import { tooLongOnWatch } from "../../../src/run/session/judging.ts";
import { pageOf } from "../../../src/ui/page.ts";
import { Driven, jobOf } from "../../kit/driven.ts";
import { sightOf, textOf } from "../../ui/sights.ts";

/** Attention falls within about half an hour; a rest is offered by 20 minutes (Mackworth 1948; secondary). */
const watchedFor = (minutes: number): Driven => {
  const run = new Driven(jobOf(["sweep: Pan", "sweep: Iris", "sweep: Zoom"])).started().playOut();
  for (let gone = run.at; gone < minutes * 60; gone += 50) {
    run.at = gone;
    run.send({ kind: "here" });
  }
  run.at = minutes * 60;
  return run.send({ kind: "here" });
};
const pageIn = (run: Driven) => textOf(pageOf(sightOf(run.session)));

test("after 20 minutes of watching a rest is suggested, between steps and not while something moves", () => {
  expect(pageIn(watchedFor(19))).not.toContain("eyes sharp");
  const run = watchedFor(21);
  expect(pageIn(run)).toContain("You have watched for 21 minutes: five minutes off keep your eyes sharp.");
  expect(pageIn(run.send({ kind: "judge", result: "pass" }))).not.toContain("eyes sharp");
});

test("minutes on watch stand with each result, and begin anew after a rest", () => {
  const run = watchedFor(21).send({ kind: "judge", result: "pass" });
  expect(run.events("step-judged").at(-1)?.on_watch_min).toBe(21);
  run.playOut();
  run.at += 6 * 60;
  run.send({ kind: "judge", result: "pass" });
  expect(run.events("step-judged").at(-1)?.on_watch_min).toBe(0);
  expect(tooLongOnWatch(run.session)).toBeUndefined();
});

test("a minute's pause is no rest", () => {
  const run = watchedFor(21);
  run.at += 90;
  run.send({ kind: "judge", result: "pass" });
  expect(run.events("step-judged").at(-1)?.on_watch_min).toBe(22.5);
});
