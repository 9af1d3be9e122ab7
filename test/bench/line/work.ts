import { setTimeout as pause } from "node:timers/promises";
import type { Frames, Task, Written } from "./talk.ts";

/** So many seconds of the task are measured; the writers run a little longer, so that the window is full. */
const MARGIN_S = 0.5;

/** In ms. */
const BLOCKED = {
  idle: { for: 0, every: 0 },
  busy: { for: 2, every: 5 },
  drawing: { for: 7, every: 50 },
} as const satisfies Readonly<Record<Task["load"], { readonly for: number; readonly every: number }>>;

/** Waits out the task under its load and reckons the processor time of this process. */
export const work = async ({ load, seconds }: Task, frames: Frames): Promise<Written> => {
  const before = process.cpuUsage();
  const start = process.hrtime.bigint();
  const blocked = BLOCKED[load];
  const blocking = blocked.for > 0 ? setInterval(block, blocked.every, blocked.for) : undefined;
  await pause((seconds + MARGIN_S) * 1000);
  clearInterval(blocking);
  const { user, system } = process.cpuUsage(before);
  return { processor: ((user + system) * 1000) / Number(process.hrtime.bigint() - start), frames };
};

const block = (time: number) => {
  const end = performance.now() + time;
  while (performance.now() < end);
};
