#!/usr/bin/env node
import { isOlder } from "./domain/problem/version.ts";

/** The same as in package.json. An older Node stumbles over the program's own files, so it is asked before they are read. */
const NEEDED = "20.19";

if (isOlder(process.versions.node, NEEDED)) {
  process.stderr.write(`Limber needs Node ${NEEDED} or later; this is Node ${process.versions.node}.\n`);
  process.exitCode = 3;
} else await import("./main.ts");
