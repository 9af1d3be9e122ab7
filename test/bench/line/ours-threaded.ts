import { once } from "node:events";
import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";
import { openOurs } from "./our-frames.ts";
import { answering, type Task } from "./talk.ts";
import { work } from "./work.ts";

/** Our side with clock, register and port on a thread of their own; the main thread does everything else. */
let opened: { readonly task: Task; readonly thread: Worker } | undefined;

const told = async (thread: Worker): Promise<unknown> => (await once(thread, "message"))[0];

const open = async (task: Task) => {
  const thread = new Worker(new URL(import.meta.url), { workerData: task });
  opened = { task, thread };
  return told(thread);
};

const go = async () => {
  if (opened === undefined) throw new Error("Bug: nothing is open");
  const { task, thread } = opened;
  thread.postMessage("begin");
  const written = await work(task, { late: [], dropped: 0, skipped: 0 });
  const frames = told(thread);
  thread.postMessage("end");
  return { ...written, frames: await frames };
};

const sendFrames = async (task: Task) => {
  const ours = await openOurs(task);
  parentPort?.on("message", async (what: "begin" | "end") => {
    if (what === "begin") ours.begin();
    if (what === "begin") return;
    await ours.end();
    parentPort?.postMessage(ours.said);
  });
  parentPort?.postMessage("open");
};

if (isMainThread) answering((question: Task | "go") => (question === "go" ? go() : open(question)));
else await sendFrames(workerData as Task);
