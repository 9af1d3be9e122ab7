import { parentPort } from "node:worker_threads";
import { diagnose } from "../machine/diagnose.ts";
import type { DiagnosisQuestion } from "./diagnosis-thread.ts";

/** The thread that works out what may be wrong: it may take its second, the frames go out on another one. */
if (!parentPort) throw new Error("Bug: diagnosis-worker.ts runs only as a worker thread");
const port = parentPort;
let known: DiagnosisQuestion["standing"] = "as before";

port.on("message", ({ standing, rest }: DiagnosisQuestion) => {
  if (standing !== "as before") known = standing;
  if (known === "as before") throw new Error("Bug: the first question says nothing of the fixture");
  const { opened, ...fixture } = known;
  port.postMessage(diagnose({ ...fixture, ...rest, view: { ...rest.view, opened } }));
});
