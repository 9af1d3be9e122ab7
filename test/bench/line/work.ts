import { setTimeout as pause } from "node:timers/promises";
import type { Frames, Task, Written } from "./talk.ts";

/** So many seconds of the task are measured; the writers run a little longer, so that the window is full. */
const MARGIN_S = 0.5;

/** Waits out the task under its load and reckons the processor time of this process. */
export const work = async ({ load, seconds }: Task, frames: Frames): Promise<Written> => {
  const before = process.cpuUsage();
  const start = process.hrtime.bigint();
  const blocking = load === "busy" ? setInterval(block, 5) : undefined;
  await pause((seconds + MARGIN_S) * 1000);
  clearInterval(blocking);
  const { user, system } = process.cpuUsage(before);
  return { processor: ((user + system) * 1000) / Number(process.hrtime.bigint() - start), frames };
};

const block = () => {
  const end = performance.now() + 2;
  while (performance.now() < end);
};
