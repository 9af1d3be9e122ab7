import { parentPort } from "node:worker_threads";
import { diagnose, type Findings } from "../session/diagnose.ts";

/** The thread that works out what may be wrong: it may take its second, the frames go out on another one. */
if (!parentPort) throw new Error("Bug: diagnosis-worker.ts runs only as a worker thread");
const port = parentPort;

port.on("message", (findings: Findings) => port.postMessage(diagnose(findings)));
