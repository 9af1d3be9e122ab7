import { FRAMES_PER_SECOND, type Frame } from "../../../src/domain/units.ts";
import { frameClock } from "../../../src/io/clock/clocks.ts";
import { goFirst } from "../../../src/io/clock/crowded.ts";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { universesOn } from "../../../src/run/shell/universes.ts";
import type { Frames, Task } from "./talk.ts";

/** Our side, on whichever thread opens it: frame clock, register of universes, framed serial door. */
export interface OurFrames {
  /** What became of those that were due so far. */
  readonly said: Frames;
  begin(): void;
  end(): Promise<void>;
}

export const openOurs = async (task: Task): Promise<OurFrames> => {
  if (task.priority === "raised" && goFirst() === "not allowed") console.error("this system allows no priority");
  const universes = universesOn(new Map([[1, framedLine(task.path)]]));
  await universes.open(1, (error) => {
    throw error;
  });
  const frames = { late: [] as number[], dropped: 0, skipped: 0 };
  let next = 0;
  let stop = () => {};
  return {
    said: frames,
    begin: () => {
      stop = frameClock().start(({ frame, late }) => {
        frames.dropped += universes.send(1, levelsOf(task, frame)) === "dropped" ? 1 : 0;
        frames.skipped += frame - next;
        frames.late.push(late * 1000);
        next = frame + 1;
      });
    },
    end: async () => {
      stop();
      await universes.close();
    },
  };
};

/** Slots 5 and 6 carry the frame's number for the reader. */
const levelsOf = ({ what, seconds }: Task, frame: Frame) => {
  const levels = new Uint8Array(512);
  const last = FRAMES_PER_SECOND * seconds - 1;
  const value = what === "sweep" ? Math.round((Math.min(frame, last) / last) * 65_535) : 0;
  levels.set([value >> 8, value & 255, 0, 0, frame >> 8, frame & 255]);
  return levels;
};
