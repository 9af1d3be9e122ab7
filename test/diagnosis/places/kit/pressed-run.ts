import type { SymptomId } from "../../../../src/domain/trade/symptoms.ts";
import { chanceFrom } from "../../../../src/sim/chance.ts";
import type { Driven } from "../../../kit/driven.ts";
import { pressesFor, type Truth, type Watcher } from "./presser.ts";
import { KEEN } from "./session.ts";

/** Plays the step that moves pan to its end while a simulated person presses for what is set. */
export const pressing = (run: Driven, truth: Truth, watcher: Watcher = KEEN, seed = 1): Driven => {
  const { stage, job } = run.session;
  if (stage.kind !== "moving") throw new Error(`nothing moves: ${stage.kind}`);
  const presses = pressesFor(job.timeline.profile, stage.step, "Pan", truth, watcher, chanceFrom(seed));
  for (const { frame } of presses.filter((press) => press.frame <= stage.step.frames))
    run.send({ kind: "press" }, frame);
  return run.playOut();
};

/** It failed, with this symptom of pan. */
export const failing = (run: Driven, symptom: SymptomId): Driven =>
  run.send({ kind: "symptom", symptom: { symptom, function: "Pan" } }).send({ kind: "confirm" });
