// Loaded before the program: says on file descriptor 3, or in the file that TOLD names, which events the program was told to be on disk, each as a line of
// JSON. The program itself is the one that is shipped; only the messages of its journal's thread are listened to.
import { openSync, writeSync } from "node:fs";
import { Worker } from "node:worker_threads";

const inserts = new Map();
const out = process.env.TOLD ? openSync(process.env.TOLD, "a", 0o600) : 3;
const { postMessage, emit } = Worker.prototype;

Worker.prototype.postMessage = function (question, ...rest) {
  if (question?.ask?.kind === "insert") inserts.set(question.number, question.ask.rows);
  return postMessage.call(this, question, ...rest);
};

Worker.prototype.emit = function (name, reply, ...rest) {
  if (name === "message" && reply?.kind === "done")
    for (const { id, event } of inserts.get(reply.number) ?? []) say(JSON.stringify({ id, event }));
  return emit.call(this, name, reply, ...rest);
};

/** The reader may be slow: then the pipe is full for a moment. */
const say = (line) => {
  const bytes = Buffer.from(`${line}\n`);
  for (let at = 0; at < bytes.length; )
    try {
      at += writeSync(out, bytes, at);
    } catch (error) {
      if (error.code !== "EAGAIN") throw error;
    }
};
