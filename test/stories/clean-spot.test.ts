import { expect, test } from "vitest";
import { jobFor } from "../../src/app/fixture/job.ts";
import { secondsOf } from "../../src/domain/units.ts";
import type { HandTask } from "../../src/run/session/by-hand/task.ts";
import { questionOf } from "../../src/run/session/session.ts";
import { Driven } from "../kit/driven.ts";
import { must, shippedBench, shippedProfile, shippedSequence, shippedText } from "../kit/shipped.ts";
import { AGREE, Typist } from "../ui/sights.ts";

/** The whole check-in of the shipped spot with nothing wrong: every key by the screen's own key handler, movements in no real time. */
const checkIn = (mode: "attended" | "hands-off") =>
  must(
    jobFor(
      {
        profile: { value: shippedProfile("spot-16bit"), text: shippedText("profiles/spot-16bit.yaml") },
        sequence: { value: shippedSequence("check-in"), text: shippedText("sequences/check-in.yaml") },
        bench: { value: shippedBench(), text: shippedText("benches/bench.yaml") },
      },
      {
        serial: "A-17",
        universe: 1,
        address: 1,
        output: "test",
        simulated: true,
        set: [],
        mode,
        replays: undefined,
        hire: undefined,
      },
    ),
  );

const typed = (digit: string, text: string): readonly string[] => [digit, ...text, "enter"];

/** What a technician types at a page by hand: the hours and the earth with their values, the initials once. */
const keysFor = (task: HandTask): readonly string[] => {
  if (task.kind === "dirt") return ["1"];
  if (task.kind === "reading" && task.reading === "source-hours") return [...typed("1", "640"), "g"];
  if (task.kind === "reading" && task.initials === "") return [...typed("1", ".08"), ...typed("2", "EE"), "g"];
  return task.kind === "hold-point" ? [AGREE] : ["g"];
};

/** Nobody counts as watching who does not touch a key for a minute. */
const MOST_SILENCE_S = 58;

/** One technician at the keys; what is pressed is counted. */
class Technician {
  readonly run: Driven;
  keys = 0;
  signs = 0;
  questions = 0;
  private lastKey = 0;
  private readonly typist: Typist;
  private readonly mode: "attended" | "hands-off";

  constructor(mode: "attended" | "hands-off") {
    this.mode = mode;
    this.run = new Driven(checkIn(mode)).begin();
    this.typist = new Typist(this.run);
  }

  /** One movement is watched, or one question answered. */
  onwards(): void {
    const { stage } = this.run.session;
    if (stage.kind === "moving") this.watch(stage.step.routine, secondsOf(stage.step.frames));
    else if (stage.kind === "slow-start") this.run.playOut();
    else this.answer(stage.kind === "by-hand" ? keysFor(stage.task) : [AGREE]);
  }

  private watch(routine: string, length: number): void {
    const watched = this.mode === "hands-off" && !["power-up", "soak"].includes(routine);
    if (watched && this.run.at + length - this.lastKey > MOST_SILENCE_S) {
      this.signs += 1;
      this.press("t");
    }
    // While it soaks: the paper work.
    if (routine === "soak") this.press("1");
    this.run.playOut();
  }

  private answer(keys: readonly string[]): void {
    this.questions += 1;
    const before = questionOf(this.run.session);
    this.press(...keys);
    expect(questionOf(this.run.session), `still at ${before}`).not.toBe(before);
  }

  private press(...keys: readonly string[]): void {
    this.keys += keys.length;
    this.lastKey = this.run.at;
    this.typist.press(...keys);
  }
}

const walk = (mode: "attended" | "hands-off"): Technician => {
  const technician = new Technician(mode);
  for (let n = 0; n < 1000 && technician.run.session.stage.kind !== "finished"; n++) technician.onwards();
  return technician;
};

const SLOW = 120_000;

test(
  "a clean spot is checked in, inspected, cleaned, measured and signed, and nothing stands against it",
  () => {
    const { run, keys, signs, questions } = walk("hands-off");
    expect(run.session.stage).toEqual({ kind: "finished", how: "finished" });
    expect(run.events("signed-off")).toHaveLength(1);
    expect(Object.values(run.results()).filter((result) => result !== "pass" && result !== "not-fitted")).toEqual([]);
    expect({ keys, signs, questions }).toMatchInlineSnapshot(`
      {
        "keys": 72,
        "questions": 40,
        "signs": 17,
      }
    `);
  },
  SLOW,
);

test(
  "asked after every step the same check-in takes a key for each of them",
  () => {
    const each = walk("attended");
    const by = walk("hands-off");
    expect(each.run.events("signed-off")).toHaveLength(1);
    expect({ keys: each.keys, questions: each.questions }).toMatchInlineSnapshot(`
      {
        "keys": 102,
        "questions": 87,
      }
    `);
    expect(by.keys).toBeLessThan(each.keys);
    expect(by.questions).toBeLessThan(each.questions * 0.6);
  },
  SLOW,
);
