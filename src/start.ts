#!/usr/bin/env node
import { isOlder } from "./domain/problem/version.ts";

/** The same as in package.json. An older Node stumbles over the program's own files, so it is asked before they are read. */
const NEEDED = "20.19";

/** Whoever read what is printed has gone ("limber runs | head"): no reason to end a run in the middle of a movement. */
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

if (isOlder(process.versions.node, NEEDED)) {
  process.stderr.write(`Limber needs Node ${NEEDED} or later; this is Node ${process.versions.node}.\n`);
  process.exitCode = 3;
} else {
  const { limber } = await import("./limber.ts");
  process.exitCode = await limber(process.argv.slice(2));
}
