import { EventEmitter } from "node:events";
import { readFileSync } from "node:fs";
import { FUNCTION_IDS } from "../../../src/domain/trade/functions.ts";
import { FRAMES_PER_SECOND } from "../../../src/domain/units.ts";
import type { Spectacle } from "../../../src/run/ports.ts";
import type { Session } from "../../../src/run/session/session.ts";
import { Driven, jobOf } from "../../kit/driven.ts";

/** A terminal that only counts. */
export const counter = () => {
  let bytes = 0;
  const stdout = Object.assign(new EventEmitter(), {
    isTTY: true,
    columns: 80,
    rows: 24,
    write: (text: string) => {
      bytes += Buffer.byteLength(text);
      return true;
    },
  });
  return { stdout: stdout as never, bytes: () => bytes };
};

/** A keyboard that nobody touches. */
export const silence = () => {
  const stdin = Object.assign(new EventEmitter(), { setEncoding: () => {}, resume: () => {}, pause: () => {} });
  return stdin as never;
};

const steps = [...readFileSync("sequences/full.yaml", "utf8").matchAll(/^ {2}- (.*)$/gm)].map(([, step]) => step ?? "");

interface Moment {
  readonly session: Session;
  readonly frame: number;
}

/** What is shown in every 50 ms of so many seconds of full checks, one after another, answered as they come; time is a number here. */
export function* moments(seconds: number): Generator<Moment> {
  let left = seconds * 20;
  while (left > 0)
    for (const moment of fullCheck()) {
      if (left-- <= 0) return;
      yield moment;
    }
}

function* fullCheck(): Generator<Moment> {
  const run = new Driven(jobOf(steps)).begin().send({ kind: "confirm" }).send({ kind: "confirm" });
  while (run.session.stage.kind !== "finished") {
    yield* playing(run);
    if (run.session.stage.kind === "moving" || run.session.stage.kind === "slow-start") run.playOut();
    else run.send({ kind: "confirm" });
    run.send({ kind: "stored", count: run.session.view.count });
  }
}

/** A step to its end, with a press now and then; a question for a second. */
function* playing(run: Driven): Generator<Moment> {
  const { stage } = run.session;
  const frames = stage.kind === "moving" ? stage.step.frames : FRAMES_PER_SECOND;
  for (let frame = 0; frame < frames; frame += 2) {
    if (frame % 400 === 200) run.send({ kind: "press" }, frame);
    yield { session: run.session, frame };
  }
}

/** Everything wanders, so that every picture differs from the one before. */
export const wandering = (frame: number): Spectacle => ({
  parts: FUNCTION_IDS.map((id, n) => ({ function: id, share: (frame / (200 + 10 * n)) % 1, words: "" })),
  sounds: frame % 200 < 20 ? ["pan: scrape"] : [],
  light: `light ${Math.floor(frame / 40) % 100} %`,
  display: "address 1",
});
