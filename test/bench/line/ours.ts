import { FRAMES_PER_SECOND, type Frame } from "../../../src/domain/units.ts";
import { frameClock } from "../../../src/io/clock/frame-clock.ts";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { universesOn } from "../../../src/run/shell/universes.ts";
import { answering, type Task } from "./talk.ts";
import { work } from "./work.ts";

/** Our side: frame clock, register of universes, framed serial door. Slots 5 and 6 carry the frame's number for the reader. */
const play = async (task: Task) => {
  const universes = universesOn(new Map([[1, framedLine(task.path)]]));
  await universes.open(1, (error) => {
    throw error;
  });
  return universes;
};
let opened: { readonly task: Task; readonly universes: Awaited<ReturnType<typeof play>> } | undefined;

const levelsOf = ({ what, seconds }: Task, frame: Frame) => {
  const levels = new Uint8Array(512);
  const last = FRAMES_PER_SECOND * seconds - 1;
  const value = what === "sweep" ? Math.round((Math.min(frame, last) / last) * 65_535) : 0;
  levels.set([value >> 8, value & 255, 0, 0, frame >> 8, frame & 255]);
  return levels;
};

const go = async () => {
  if (opened === undefined) throw new Error("Bug: nothing is open");
  const { task, universes } = opened;
  const frames = { late: [] as number[], dropped: 0, skipped: 0 };
  let next = 0;
  const stop = frameClock().start(({ frame, late }) => {
    frames.dropped += universes.send(1, levelsOf(task, frame)) === "dropped" ? 1 : 0;
    frames.skipped += frame - next;
    frames.late.push(late * 1000);
    next = frame + 1;
  });
  const written = await work(task, frames);
  stop();
  await universes.close();
  return written;
};

answering(async (question: Task | "go") => {
  if (question === "go") return go();
  opened = { task: question, universes: await play(question) };
  return "open";
});
