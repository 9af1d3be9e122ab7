import { type OurFrames, openOurs } from "./our-frames.ts";
import { answering, type Task } from "./talk.ts";
import { work } from "./work.ts";

/** Our side as the program has it: frames are sent by the main thread, between whatever else it does. */
let opened: { readonly task: Task; readonly frames: OurFrames } | undefined;

const go = async () => {
  if (opened === undefined) throw new Error("Bug: nothing is open");
  const { task, frames } = opened;
  frames.begin();
  const written = await work(task, frames.said);
  await frames.end();
  return written;
};

answering(async (question: Task | "go") => {
  if (question === "go") return go();
  opened = { task: question, frames: await openOurs(question) };
  return "open";
});
