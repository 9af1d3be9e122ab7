import { parentPort, workerData } from "node:worker_threads";
import { openTable } from "../../io/store/table.ts";
import { exchangeOnce } from "./exchange-once.ts";
import { readShareSettings } from "./settings.ts";

/** The thread in which a journal is shared while a command runs: neither the network nor the folding holds up the frames. */
if (!parentPort) throw new Error("Bug: share-worker.ts runs only as a worker thread");
const port = parentPort;
const journal = String(workerData);

/** Longer than any other thread of this program writes at a time. */
const PATIENCE_S = 5;
const table = openTable(journal, PATIENCE_S);
let busy: Promise<void> = Promise.resolve();

/** One exchange after the other; each that was asked for is answered. */
port.on("message", (number: number) => {
  busy = busy.then(async () => {
    const settings = readShareSettings(journal);
    port.postMessage({ number, note: settings && (await exchangeOnce(table, settings, journal)) });
  });
});
