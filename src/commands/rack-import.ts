import { basename } from "node:path";
import { problem } from "../problem/problem.ts";
import { rackFromTable } from "../rack/from-table.ts";
import { fileShelf } from "../shelf/files.ts";
import { readBytes } from "../shelf/outside.ts";
import { deliver } from "./deliver.ts";
import type { ExitCode } from "./exit.ts";
import { refuse } from "./print.ts";
import { profilesOn } from "./rack-data.ts";

const MOST_BYTES = 1_000_000;

/** Makes a rack file of a table. What cannot be in a table is filled in as the simulated bench has it, and says so. */
export const importRack = (file: string, out: string | undefined): ExitCode => {
  const read = readBytes(file, MOST_BYTES);
  if (read.kind === "unread") return refuse([problem(file, read.why)]);
  const text = new TextDecoder().decode(read.bytes);
  const made = rackFromTable(file, text, nameFrom(out ?? file), profilesOn(fileShelf()));
  return made.ok ? deliver(made.value, out) : refuse(made.problems);
};

/** "Truck 7 (back).csv" becomes "truck-7-back". */
const nameFrom = (file: string): string =>
  basename(file)
    .replace(/\.[^.]*$/, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-|-$/g, "") || "rack";
