import { basename } from "node:path";
import { rackFromTable } from "../../data/rack/from-table.ts";
import { problem } from "../../domain/problem/problem.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { readBytes } from "../../io/files/outside.ts";
import { deliver } from "../common/deliver.ts";
import type { ExitCode } from "../common/exit.ts";
import { refuse } from "../common/print.ts";
import { profilesOn } from "./rack-data.ts";

const MOST_BYTES = 1_000_000;

/** Makes a rack file of a table. What cannot be in a table is filled in as the simulated bench has it, and says so. */
export const importRack = (file: string, out: string | undefined): ExitCode => {
  const read = readBytes(file, MOST_BYTES);
  if (read.kind === "unread") return refuse([problem(file, read.why)]);
  const text = new TextDecoder().decode(read.bytes);
  const made = rackFromTable(file, text, nameFrom(out ?? file), profilesOn(fileLibrary()));
  return made.ok ? deliver(made.value, out) : refuse(made.problems);
};

/** "Truck 7 (back).csv" becomes "truck-7-back". */
const nameFrom = (file: string): string =>
  basename(file)
    .replace(/\.[^.]*$/, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-|-$/g, "") || "rack";
