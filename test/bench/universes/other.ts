import { DMX } from "dmx-ts/dist/src/DMX.js";
import { SACNDriver } from "dmx-ts/dist/src/drivers/sacn.js";
import { FRAME_SECONDS } from "../../../src/domain/units.ts";
import { answering, type Task } from "../line/talk.ts";
import { work } from "../line/work.ts";
import { UNIVERSES } from "./universes.ts";

/** The other side: dmx-ts with its own sACN driver for each universe, updated by the timer that a user would take. */
const numbers = Array.from({ length: UNIVERSES }, (_, index) => index + 1);
const dmx = new DMX();
let task: Task | undefined;

const open = async (wanted: Task) => {
  task = wanted;
  for (const n of numbers) await dmx.addUniverse(String(n), new SACNDriver(n, { ip: wanted.path, reuseAddr: false }));
  return "open";
};

const go = async () => {
  if (task === undefined) throw new Error("Bug: nothing is open");
  let frame = 0;
  const timer = setInterval(() => {
    for (const n of numbers) dmx.update(String(n), { 5: frame >> 8, 6: frame & 255 });
    frame += 1;
  }, FRAME_SECONDS * 1000);
  const written = await work(task, { late: [], dropped: 0, skipped: 0 });
  clearInterval(timer);
  await dmx.close();
  return written;
};

answering((question: Task | "go") => (question === "go" ? go() : open(question)));
