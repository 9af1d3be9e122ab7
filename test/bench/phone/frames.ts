import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { pathToFileURL } from "node:url";
import { frameClock } from "../../../src/io/clock/clocks.ts";
import { ownIdentity } from "../../../src/io/phone/certificate.ts";
import { type PhoneDoor, type PhoneEvent, phoneThread } from "../../../src/io/phone/thread.ts";
import type { PhonePage } from "../../../src/run/phone/message.ts";
import { answering } from "../line/talk.ts";

/** The thread that sends frames, with phones served beside it or not: how late each frame is when its write would begin. */
let door: PhoneDoor | undefined;
const folder = mkdtempSync(join(tmpdir(), "limber-bench-"));

const serve = async () => {
  const identity = ownIdentity("", "127.0.0.1", new Date());
  const at = { address: "127.0.0.1", name: "127.0.0.1", port: 0, most: 2, photos: join(folder, "photos") };
  const served = phoneThread({ identity, ...at }, pathToFileURL(resolve("dist/bundle/phone-worker.js")));
  door = served;
  return new Promise((open) => {
    served.listen((event: PhoneEvent) => {
      if (event.kind === "open") open({ port: event.port, secret: event.secret });
      // Whoever shows the secret is let in, as a person at the terminal would.
      if (event.kind === "asks") served.order({ kind: "let-in", phone: event.phone, answer: "yes" });
    });
  });
};

const run = async (seconds: number) => {
  const late: number[] = [];
  const before = process.cpuUsage();
  const stop = frameClock().start(({ late: by }) => late.push(by * 1000));
  // The page is drawn ten times a second, as while something moves.
  let drawn = 0;
  const page = { headline: "Pan", lines: [], answers: [], fields: [], strips: [] } as unknown as PhonePage;
  const draw = setInterval(() => door?.order({ kind: "show", page: { ...page, drawn: ++drawn } }), 100);
  await pause(seconds * 1000);
  clearInterval(draw);
  stop();
  const { user, system } = process.cpuUsage(before);
  return { late, processor: (user + system) / 1e6 / seconds };
};

answering(async (question: { readonly what: "serve" | "run" | "end"; readonly seconds: number }) => {
  if (question.what === "serve") return serve();
  if (question.what === "run") return run(question.seconds);
  await door?.close();
  rmSync(folder, { recursive: true });
  return "over";
});
