// One simulated run under a terminal, on the screen or in plain mode; with a port the frames go there instead, and a beat in
// milliseconds makes time pass faster. Arguments: folder of the built program, then JSON:
// { profile, sequence (files), mode, set, serial, plain, distance, port, beat }. Prints the job sheet and the last frame at the end.
import { join } from "node:path";

const [dist, order] = process.argv.slice(2);
const from = (file) => import(join(dist, file));
const { profile, sequence, mode, set, serial, plain, distance, port, beat = 25 } = JSON.parse(order);
const { fileLibrary } = await from("io/files/files.js");
const { loadMaterial } = await from("app/common/data.js");
const { simBench } = await from("app/simulated/sim-bench.js");
const { jobFor } = await from("app/fixture/job.js");
const { playRun, sheetFrom, exitFor } = await from("app/fixture/play-run.js");
const { tellJobSheet } = await from("reports/job-sheet-text.js");
const { openSession } = await from("run/session/session.js");
const { memoryJournal } = await from("io/store/memory.js");
const { silentLog } = await from("io/log/file.js");
const { spectacleOf } = await from("sim/spectacle.js");
const { silentVoice } = await from("io/voice/speech.js");
const { diagnosisThread } = await from("run/shell/diagnosis-thread.js");
const { systemSignals } = await from("run/shell/signals.js");

/** Real seconds, but no frame is ever called late or skipped: a busy machine must not decide what a test sees. */
const patientClock = {
  now: () => performance.now() / 1000,
  date: () => "2026-11-25T12:00:00.000Z",
  start: (onTick) => {
    let frame = 0;
    const timer = setInterval(() => onTick({ frame: frame++, late: 0 }), beat);
    return () => clearInterval(timer);
  },
};
const must = (result) => {
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
};
const material = must(loadMaterial(fileLibrary(), { profile, sequence, bench: "benches/bench.yaml" }));
const sim = must(simBench(material, { address: 1, set, seed: 1 }));
const faults = sim.set;
const { framedLine } = await from("io/serial/framed-line.js");
const { onUniverse } = await from("app/fixture/lines.js");
const { onlyLine, sentHere } = await from("run/shell/frame-sender.js");
const lines = port ? await onUniverse(1, framedLine(port)) : onlyLine(sim.line);
const job = must(
  jobFor(material, {
    serial,
    universe: 1,
    address: 1,
    output: "sim",
    simulated: true,
    set: faults,
    mode,
    replays: undefined,
  }),
);
let scene;
sim.line.scenes(([now]) => {
  scene = now.scene;
});
const spectacle = () => (scene ? spectacleOf(scene) : { parts: [], sounds: [], light: "dark", display: "" });
const frames = [];
const kept = {
  ...lines,
  send: (universe, frame) => {
    frames.push([...frame]);
    return lines.send(universe, frame);
  },
};
const journal = memoryJournal();
const options = (frame) => ({
  buttons: job.bench.buttons,
  frame,
  spectacle: port ? undefined : () => [spectacle()],
  colour: !process.env.NO_COLOR,
  distance,
  stdin: process.stdin,
  stdout: process.stdout,
});
const open = plain ? (await from("ui/plain.js")).plainScreen : (await from("ui/screen.js")).screen;
const over = await playRun(openSession(job, "KM"), "test-run", {
  clock: () => patientClock,
  diagnosis: diagnosisThread(),
  frames: sentHere(kept),
  questions: new Map(),
  journal,
  watcher: (frame) => open(options(frame)),
  voice: silentVoice,
  log: silentLog,
  byHand: sim.hands.did,
  signals: systemSignals,
});
process.stdout.write(`${tellJobSheet(await sheetFrom(journal, "test-run", material.profile.value, job))}\n`);
// The stop is the last frame that differs from the one before: no axis jumps in it.
const { functions } = material.profile.value;
const stop = frames.findLastIndex((frame, n) => n > 0 && frame.join() !== frames[n - 1].join());
const degrees = [0, 2].map(
  (at) =>
    (540 *
      Math.abs(256 * (frames[stop][at] - frames[stop - 1][at]) + frames[stop][at + 1] - frames[stop - 1][at + 1])) /
    65535,
);
const [shutter] = functions.get("Shutter1").slots;
const isDark = frames.at(-1)[shutter - 1] < 32;
process.stdout.write(
  `The last frame was ${isDark ? "dark" : "LIT"}, and ${Math.max(...degrees) < 1 ? "no axis had jumped" : `pan and tilt had JUMPED by ${degrees}`}.\n`,
);
process.exitCode = exitFor(over);
