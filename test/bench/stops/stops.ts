import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { type Row, row } from "../line/row.ts";
import type { Stop } from "./check-in.ts";

const FAULT = "pan-track-dented";
const PASSES = Number(process.env["PASSES"] ?? 3);
const TOLD = 5;

/**
 * How long an answer keeps the thread that sends frames from sending any, over a whole check-in of a simulated fixture with
 * something wrong: with the diagnosis on a thread of its own, and worked out on the spot as it was before. The same check-in
 * is played several times, each in a process of its own; of each input the shortest stop counts, so that what else the
 * computer does counts less, and of these the longest is told.
 */
export const stopsBench = async (): Promise<readonly Row[]> => {
  const [beside, here] = [await shortest("beside"), await shortest("here")];
  for (const { ms, busy, what } of longest(beside, "ms").slice(0, TOLD))
    process.stderr.write(`${ms.toFixed(1)} ms, of it at work ${busy.toFixed(1)}: ${what}\n`);
  const rowOf = (by: "ms" | "busy", words: string): Row =>
    row(
      `longest stop of the frames in a check-in, ${FAULT}, beside worked out on the spot${words}`,
      "ms",
      longest(beside, by)[0]?.[by] ?? 0,
      longest(here, by)[0]?.[by] ?? 0,
    );
  return [rowOf("ms", ""), rowOf("busy", ": processor time")];
};

const longest = (stops: readonly Stop[], by: "ms" | "busy"): readonly Stop[] => stops.toSorted((a, b) => b[by] - a[by]);

const shortest = async (where: "beside" | "here"): Promise<readonly Stop[]> => {
  let best: readonly Stop[] = await checkIn(where);
  for (let pass = 1; pass < PASSES; pass++) {
    const more = await checkIn(where);
    if (more.length !== best.length) throw new Error("the same check-in went another way");
    best = best.map((stop, input) => shorter(stop, more[input] ?? stop));
  }
  return best;
};

const shorter = (one: Stop, other: Stop): Stop => ({
  ...one,
  ms: Math.min(one.ms, other.ms),
  busy: Math.min(one.busy, other.busy),
});

const checkIn = async (where: "beside" | "here"): Promise<readonly Stop[]> => {
  const program = fileURLToPath(new URL("./check-in.js", import.meta.url));
  const { stdout } = await promisify(execFile)(process.execPath, [program, FAULT, where], { maxBuffer: 1 << 24 });
  return JSON.parse(stdout);
};
