import { Worker } from "node:worker_threads";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import type { OpenTwice } from "../../io/store/sharing.ts";
import { many } from "../../reports/status-words.ts";
import { complain } from "../common/output.ts";
import type { ExchangeNote, SharedPhotos } from "./exchange-once.ts";

const MINUTE_MS = 60_000;
/** At the end of a command nobody waits longer for a server that does not answer; the next command goes on with it. */
const LAST_MS = 4_000;

/**
 * A journal that takes part in a share: what is written to it is exchanged every minute and when it is closed, by a
 * thread of its own that begins with the first event. Whoever only reads starts nothing.
 */
export const shared = (journal: FileJournal, file: string): FileJournal => {
  let thread: ShareThread | undefined;
  return {
    ...journal,
    append: async (event) => {
      await journal.append(event);
      thread ??= startThread(file);
    },
    close: async () => {
      const last = thread;
      thread = undefined;
      await last?.end();
      await journal.close();
    },
  };
};

interface ShareThread {
  /** A last exchange, and what a person should know of it. */
  end(): Promise<void>;
}

interface SharerAnswer {
  readonly number: number;
  readonly note: ExchangeNote | undefined;
}

const startThread = (file: string): ShareThread => {
  const worker = new Worker(new URL("./share-worker.js", import.meta.url), { name: "share", workerData: file });
  let asked = 0;
  let latest: SharerAnswer = { number: 0, note: undefined };
  let heard = () => {};
  worker.on("message", (answer: SharerAnswer) => {
    latest = answer;
    heard();
  });
  // It is beside the work: whatever becomes of it, the run goes on and the events stay in the journal.
  const died = () => {
    latest = { number: Number.POSITIVE_INFINITY, note: latest.note };
    heard();
  };
  worker.on("error", died);
  worker.on("exit", died);
  worker.unref();
  const ask = () => {
    asked += 1;
    worker.postMessage(asked);
  };
  const everyMinute = setInterval(ask, MINUTE_MS).unref();
  const answered = () =>
    new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, LAST_MS);
      heard = () => {
        if (latest.number < asked) return;
        clearTimeout(timer);
        resolve();
      };
      heard();
    });
  return {
    end: async () => {
      clearInterval(everyMinute);
      ask();
      await answered();
      await worker.terminate();
      for (const words of latest.note ? troublesIn(latest.note) : []) complain(safeText(words));
    },
  };
};

/** What a person should know of an exchange; nothing when all is well. */
export const troublesIn = ({ outcome }: ExchangeNote): readonly string[] => {
  if (outcome.kind === "failed") return [`Not shared: ${outcome.why}`];
  return [
    ...(outcome.forgotten
      ? ["The share takes no more events of this bench: a person told the share to forget it."]
      : []),
    ...outcome.renewed.map(
      (origin) =>
        `Another journal used the numbers of this one (an older copy was put back, or it was copied): it goes on as bench ${origin}. Nothing is lost.`,
    ),
    ...outcome.refused.map(
      ({ origin, number, why }) => `Refused from bench ${origin}: event ${number} and what follows it (${why}).`,
    ),
    ...openTwiceInWords(outcome.openTwice),
    ...(outcome.photos && outcome.photos.waiting > 0
      ? [
          `${many(outcome.photos.waiting, "photo")} not shared yet: the server is set up for events alone. "limber share join" brings it up to date.`,
        ]
      : []),
  ];
};

/** Says which fixtures are open at more than one bench, a sentence each. */
export const openTwiceInWords = (all: readonly OpenTwice[]): readonly string[] =>
  all.map(
    ({ serial, runs }) =>
      `${serial} is open at more than one bench: ${runs.map(({ run, origin }) => `run ${run} at bench ${origin}`).join(", ")}.`,
  );

/** When was exchanged last, and what, in words. */
export const doneInWords = ({ at, outcome }: ExchangeNote): string => {
  const when = at.slice(0, 16).replace("T", " ");
  return outcome.kind === "failed"
    ? `Last tried ${when} UTC`
    : `Last exchange ${when} UTC: ${many(outcome.pushed, "event")} sent, ${many(outcome.pulled, "event")} received${photosInWords(outcome.photos)}`;
};

const photosInWords = (photos: SharedPhotos | undefined): string =>
  photos && photos.sent + photos.received > 0
    ? `; ${many(photos.sent, "photo")} sent, ${many(photos.received, "photo")} received`
    : "";
