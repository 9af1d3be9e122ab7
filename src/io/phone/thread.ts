import { Worker } from "node:worker_threads";
import type { PhoneEvent, PhoneOrder, Serving } from "./event.ts";

/** Phones as the run sees them: what they are shown, and what they say. */
export interface PhoneDoor {
  order(order: PhoneOrder): void;
  /** Whoever listens last hears; until then what was said waits. */
  listen(hear: (event: PhoneEvent) => void): void;
  /** Nothing listens on the network any more once this has resolved. */
  close(): Promise<void>;
}

/** Serves phones from a thread of its own, until it is closed. */
export const phoneThread = (serving: Serving, code: URL = new URL("./phone-worker.js", import.meta.url)): PhoneDoor => {
  const worker = new Worker(code, { name: "phone", workerData: serving });
  const waiting: PhoneEvent[] = [];
  let hear = (event: PhoneEvent): void => void waiting.push(event);
  const ended = new Promise<void>((resolve) => worker.once("exit", () => resolve()));
  worker.on("message", (event: PhoneEvent) => hear(event));
  // A phone is a help and no condition: without it the run goes on at the terminal.
  worker.on("error", (error) => hear({ kind: "cannot-open", words: String(error) }));
  return {
    order: (order) => worker.postMessage(order),
    listen: (listener) => {
      hear = listener;
      for (const event of waiting.splice(0)) listener(event);
    },
    close: async () => {
      worker.postMessage({ kind: "close" } satisfies PhoneOrder);
      const late = setTimeout(() => void worker.terminate(), LAST_WORDS_MS);
      await ended;
      clearTimeout(late);
    },
  };
};

/** How long the phones have to hear that it is over. */
const LAST_WORDS_MS = 1000;
