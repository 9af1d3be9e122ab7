import { readFileSync } from "node:fs";
import { setPriority } from "node:os";
import { parentPort, workerData } from "node:worker_threads";
import { type PhoneEvent, type PhoneOrder, type Serving, systemNow } from "./event.ts";
import type { PageFile } from "./routes.ts";
import { PATIENCE, PhoneServer } from "./server.ts";

/** The thread that serves phones: encryption, strangers and pictures take their time here and not from the frames. */

/** The page as the build puts it beside this file: with its style and script, each in one piece. */
const pageBeside = (): PageFile => {
  const read = (name: string) => readFileSync(new URL(name, import.meta.url), "utf8");
  const [page, style, script] = [read("phone-page.html"), read("phone-page.css"), read("phone-page.js")];
  const html = page.replace("/* style */", () => style).replace("/* script */", () => script);
  return { html, style, script };
};

/** Behind the thread that sends frames: where no processor is free, phones wait. */
const BEHIND = 10;

const port = parentPort;
if (port) {
  // On Linux 0 is the thread that asks (setpriority(2), NOTES); elsewhere it would be the whole program.
  if (process.platform === "linux") setPriority(0, BEHIND);
  const server = new PhoneServer(workerData as Serving, {
    patience: PATIENCE,
    page: pageBeside(),
    now: systemNow,
    tell: (event: PhoneEvent) => port.postMessage(event),
    read: async (picture) => (await import("./label-reader.ts")).readLabel(picture),
  });
  port.on("message", (order: PhoneOrder) => {
    server.heard(order);
    if (order.kind === "close") port.close();
  });
  server.start();
}
