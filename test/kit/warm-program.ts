import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from "node:worker_threads";
import { program } from "./built.ts";
import type { Ended } from "./limber.ts";

/**
 * The shipped program without a process of its own: loaded once for a test file, called any number of times, each time
 * from its words to its exit code and all that it printed. A process started anew takes fifteen times the processor for
 * a quick command. For what is a process's own
 * (signals, a terminal, typed words, being killed, a serial port) start one.
 */
export const callWarm = (words: readonly string[], home: string): Ended => {
  warm ??= loaded();
  const { port, bell } = warm;
  const before = Atomics.load(bell, 0);
  port.postMessage(callOf(words, home));
  if (Atomics.wait(bell, 0, before, PATIENCE_MS) === "timed-out")
    throw new Error(`limber ${words.join(" ")}: no end within ${PATIENCE_MS / 1000} s`);
  return receiveMessageOnPort(port)?.message as Ended;
};

const callOf = (words: readonly string[], home: string) => ({
  words,
  // The log is found through the system, which knows this process's home and not that of one call.
  env: { PATH: process.env["PATH"] ?? "", HOME: home, XDG_STATE_HOME: join(home, ".local", "state") },
  main: program(),
});

const PATIENCE_MS = 110_000;

interface Warm {
  readonly port: MessagePort;
  /** Counts the calls that have ended: the one way to wait for a thread without letting anything else happen. */
  readonly bell: Int32Array;
}
let warm: Warm | undefined;

const loaded = (): Warm => {
  const { port1: port, port2 } = new MessageChannel();
  const bell = new Int32Array(new SharedArrayBuffer(4));
  const workerData = { port: port2, bell, code: pathToFileURL(commands()).href };
  const thread = new Worker(new URL("./warm-program.mjs", import.meta.url), {
    workerData,
    transferList: [port2],
    execArgv: [],
  });
  for (const one of [thread, port]) one.unref();
  return { port, bell };
};

/** The part of the bundle that is loaded when Node is recent enough: what its first file imports. */
const commands = (): string => {
  const [, part] = /import\("\.\/(limber-[^"]+\.js)"\)/.exec(readFileSync(program(), "utf8")) ?? [];
  if (part === undefined) throw new Error("the bundle's first file loads no commands");
  return join(dirname(program()), part);
};
