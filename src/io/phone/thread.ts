import { Worker } from "node:worker_threads";
import type { PhonePage, PhoneSaid } from "../../run/phone/message.ts";
import type { Identity } from "./certificate.ts";

/** What passes between the run and the thread that serves phones. Moments are milliseconds of the system's monotonic clock, which all threads share. */

/** How phones are served: where, as whom, and how many may be paired; the first answers, the others only watch. */
export interface Serving {
  readonly identity: Identity;
  /** The one address that is listened at. */
  readonly address: string;
  /** How the phone is to call it: a name of the certificate, or the address itself. */
  readonly name: string;
  readonly port: number;
  readonly most: number;
  /** The folder in which pictures are kept. */
  readonly photos: string;
}

/** What the thread of the server tells the program. */
export type PhoneEvent =
  /** It listens. The secret pairs one phone, once. */
  | { readonly kind: "open"; readonly port: number; readonly secret: string }
  | { readonly kind: "cannot-open"; readonly words: string }
  /** A phone has shown the secret and asks to be let in; both screens show the same number. */
  | { readonly kind: "asks"; readonly phone: number; readonly number: string; readonly secret: string }
  | {
      readonly kind: "said";
      readonly phone: number;
      readonly said: PhoneSaid;
      /** When, by the system's clock, and how far off that may be. */
      readonly at: number;
      readonly give: number;
    }
  /** A picture was kept under this name, for the page that was drawn. */
  | { readonly kind: "photo"; readonly phone: number; readonly drawn: number; readonly file: string }
  /** Nothing was heard of the phone that answers for too long; it is back. */
  | { readonly kind: "lost" }
  | { readonly kind: "back" };

/** What the program orders the thread of the server to do. */
export type PhoneOrder =
  | { readonly kind: "show"; readonly page: PhonePage }
  | { readonly kind: "let-in"; readonly phone: number; readonly answer: "yes" | "no" }
  | { readonly kind: "close" };

/** Milliseconds of the system's monotonic clock, the same in every thread. */
export const systemNow = (): number => Number(process.hrtime.bigint()) / 1e6;

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
