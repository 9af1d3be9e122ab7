import { argv } from "node:process";
import { pathToFileURL } from "node:url";
import { type Row, table } from "../line/row.ts";
import { patternRows } from "./patterns.ts";
import { placeRows } from "./places.ts";
import { speedRows } from "./speed.ts";

/**
 * How near the place is that presses give, and how often the pattern is named rightly. Every figure comes from a simulated
 * watcher (ex-Gaussian reaction, an assumption, close to what the reckoning itself assumes), so it is optimistic.
 */
export const pressesBench = (seeds = Number(process.env["SEEDS"] ?? 50)): readonly Row[] => [
  ...placeRows(),
  ...patternRows(seeds),
  ...speedRows(),
];

if (import.meta.url === pathToFileURL(argv[1] ?? "").href) console.log(table(pressesBench()));
