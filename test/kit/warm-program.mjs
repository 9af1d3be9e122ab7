import { workerData } from "node:worker_threads";

/**
 * The shipped program in a thread that stays: each call is what a shell would start, without loading and warming it anew.
 * Every call has its own words, environment and streams; nothing can be typed.
 */
const { port, bell, code } = workerData;
const { limber } = await import(code);

/** What the call under way has printed. */
let printed = { out: "", err: "" };
const into = (stream) => (chunk, encoding, done) => {
  printed[stream] += typeof chunk === "string" ? chunk : Buffer.from(chunk).toString("utf8");
  const written = typeof encoding === "function" ? encoding : done;
  if (written) queueMicrotask(written);
  return true;
};
process.stdout.write = into("out");
process.stderr.write = into("err");

/** The caller stands still until the bell rings. */
const answer = (code) => {
  port.postMessage({ code, ...printed });
  Atomics.add(bell, 0, 1);
  Atomics.notify(bell, 0);
};

process.on("uncaughtException", (error) => {
  printed.err += `${error.stack}\n`;
  answer(1);
});

port.on("message", async ({ words, env, main }) => {
  printed = { out: "", err: "" };
  for (const name of Object.keys(process.env)) delete process.env[name];
  Object.assign(process.env, env);
  process.argv = [process.execPath, main, ...words];
  answer(await limber(words));
});
