import { readFileSync } from "node:fs";
import { setPriority } from "node:os";
import { parentPort, workerData } from "node:worker_threads";
import type { PageFile } from "./routes.ts";
import { PATIENCE, PhoneServer } from "./server.ts";
import { type PhoneEvent, type PhoneOrder, type Serving, systemNow } from "./thread.ts";

/** The thread that serves phones: encryption, strangers and pictures take their time here and not from the frames. */

/** The page as the build puts it beside this file: with its style and script, each in one piece. */
const pageBeside = (): PageFile => {
  const read = (name: string) => readFileSync(new URL(name, import.meta.url), "utf8");
  const [page, style, script] = [read("phone-page.html"), read("phone-page.css"), read("phone-page.js")];
  const html = page.replace("/* style */", () => style).replace("/* script */", () => script);
  return { html, style, script };
};

/**
 * Reads a QR code or a Code 128 in a picture; undefined where there is none. Its program for pictures is loaded with the
 * first of them, from beside this file, never from the network.
 */
const readLabel = async (picture: Uint8Array): Promise<string | undefined> => {
  reading ??= labelReader();
  const { readBarcodes } = await reading;
  const found = await readBarcodes(picture, { formats: ["QRCode", "Code128"], tryHarder: true, maxNumberOfSymbols: 1 });
  const text = found[0]?.isValid ? found[0].text.trim() : "";
  return text === "" ? undefined : text;
};

const labelReader = async () => {
  const reader = await import("zxing-wasm/reader");
  const wasmBinary = new Uint8Array(readFileSync(new URL("label-reader.wasm", import.meta.url)));
  await reader.prepareZXingModule({ overrides: { wasmBinary: wasmBinary.buffer }, fireImmediately: true });
  return reader;
};
let reading: ReturnType<typeof labelReader> | undefined;

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
    read: readLabel,
  });
  port.on("message", (order: PhoneOrder) => {
    server.heard(order);
    if (order.kind === "close") port.close();
  });
  server.start();
}
