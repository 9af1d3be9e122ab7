import { Animation } from "dmx-ts/dist/src/Animation.js";
import { DMX } from "dmx-ts/dist/src/DMX.js";
import { goFirst } from "../../../src/io/clock/crowded.ts";
import { otherDriver } from "./other-driver.ts";
import { answering, type Task } from "./talk.ts";
import { work } from "./work.ts";

/** The other side: dmx-ts as its readme shows it, with its own driver, timer and animation. */
let task: Task | undefined;
let dmx = new DMX();

const open = async (wanted: Task) => {
  task = wanted;
  if (wanted.priority === "raised") goFirst();
  dmx = new DMX();
  universe = await dmx.addUniverse("one", otherDriver(wanted.path));
  return "open";
};
let universe: Awaited<ReturnType<DMX["addUniverse"]>> | undefined;

const go = async () => {
  if (task === undefined || universe === undefined) throw new Error("Bug: nothing is open");
  const whole = task.seconds * 1000;
  if (task.what === "sweep") {
    new Animation().add({ 1: 255, 2: 255 }, whole).run(universe);
    // The best a user can do: animate one wide number and split it by hand before it goes out.
    new Animation({ filter: split }).add({ 3: 65_535 }, whole, { from: { 3: 0 } }).run(universe);
  }
  const written = await work(task, { late: [], dropped: 0, skipped: 0 });
  await dmx.close();
  return written;
};

const split = (values: Record<number, number>) => {
  const wide = values[3] ?? 0;
  values[3] = wide >> 8;
  values[4] = wide & 255;
};

answering((question: Task | "go") => (question === "go" ? go() : open(question)));
