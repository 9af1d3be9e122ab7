import { existsSync } from "node:fs";
import { quantile } from "../line/measures.ts";
import { type Row, row } from "../line/row.ts";
import { childOf } from "../line/talk.ts";
import { airRows } from "./air.ts";

const SECONDS = Number(process.env["SECONDS"] ?? 20);

/** The page on a phone: what it costs the frames, and what the air costs the places. */
export const phoneBench = async (): Promise<readonly Row[]> =>
  process.env["ONLY"] === "frames" ? frameRows() : [...airRows(), ...(await frameRows())];

/** Frames with a page open and somebody hammering at the server, beside the same without, one after the other. */
const frameRows = async (): Promise<readonly Row[]> => {
  if (!existsSync("dist/bundle/phone-worker.js"))
    throw new Error("npm run build first: the server is measured as it is shipped");
  const alone = await lateness("without");
  const hammered = await lateness("hammered");
  return [
    ...[0.5, 0.99, 1].map((share) =>
      row(
        `frames late at the send with the page open and hammered, ${share === 1 ? "max" : `p${share * 100}`} (other: without --phone)`,
        "ms",
        quantile(hammered.late, share),
        quantile(alone.late, share),
      ),
    ),
    row("the same: frames in the time", "frames", hammered.late.length, alone.late.length),
    row("the same: processor", "% of a core", 100 * hammered.processor, 100 * alone.processor),
    row("requests made meanwhile", "a second", hammered.counts.asked / SECONDS),
    row("of these answered with what was asked for", "%", (100 * hammered.counts.answered) / hammered.counts.asked),
    row("connections opened besides", "a second", hammered.counts.connections / SECONDS),
  ];
};

interface Hammered {
  readonly late: readonly number[];
  /** Of one core, 0 to 1. */
  readonly processor: number;
  readonly counts: { readonly asked: number; readonly answered: number; readonly connections: number };
}

const lateness = async (how: "without" | "hammered"): Promise<Hammered> => {
  const frames = childOf("../phone/frames.js");
  const hammer = how === "hammered" ? childOf("../phone/hammer.js") : undefined;
  try {
    if (hammer) await hammer.ask(await frames.ask({ what: "serve" }));
    const run = await frames.ask<Pick<Hammered, "late" | "processor">>({ what: "run", seconds: SECONDS });
    const counts = (await hammer?.ask<Hammered["counts"]>("counts")) ?? { asked: 0, answered: 0, connections: 0 };
    return { ...run, counts };
  } finally {
    hammer?.end();
    await frames.ask({ what: "end" });
    frames.end();
  }
};
