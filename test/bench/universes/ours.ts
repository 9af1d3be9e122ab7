import { performance } from "node:perf_hooks";
import type { Frame } from "../../../src/domain/units.ts";
import { frameClock } from "../../../src/io/clock/clocks.ts";
import { sacnLine } from "../../../src/io/network/lines.ts";
import type { OpenedLines } from "../../../src/run/shell/frame-sender.ts";
import { universesOn } from "../../../src/run/shell/universes.ts";
import { answering, type Task } from "../line/talk.ts";
import { work } from "../line/work.ts";
import { UNIVERSES } from "./universes.ts";

/** Our side: one frame clock, the register of universes, a sACN line for each. Slots 5 and 6 carry the frame's number for the reader. */
const numbers = Array.from({ length: UNIVERSES }, (_, index) => index + 1);
let opened: { readonly task: Task; readonly universes: OpenedLines } | undefined;

const open = async (task: Task) => {
  const universes = universesOn(new Map(numbers.map((n) => [n, sacnLine("net", n, task.path)])));
  const lost = (error: Error) => {
    throw error;
  };
  await Promise.all(numbers.map((universe) => universes.open(universe, lost)));
  opened = { task, universes };
  return "open";
};

/** How long after its deadline the last universe of every frame had been handed over, in ms. */
const go = async () => {
  if (opened === undefined) throw new Error("Bug: nothing is open");
  const { task, universes } = opened;
  const frames = { late: [] as number[], dropped: 0, skipped: 0 };
  let next = 0;
  const stop = frameClock().start(({ frame, late }) => {
    const began = performance.now();
    for (const universe of numbers) frames.dropped += universes.send(universe, levelsOf(frame)) === "dropped" ? 1 : 0;
    frames.late.push(late * 1000 + performance.now() - began);
    frames.skipped += frame - next;
    next = frame + 1;
  });
  const written = await work(task, frames);
  stop();
  await universes.close();
  return written;
};

const levelsOf = (frame: Frame) => {
  const levels = new Uint8Array(512);
  levels.set([0, 0, 0, 0, frame >> 8, frame & 255]);
  return levels;
};

answering((question: Task | "go") => (question === "go" ? go() : open(question)));
