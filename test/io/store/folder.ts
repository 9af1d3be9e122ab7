import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";

/** A folder of its own for a test, gone when the test is over. */
export const ownFolder = (): string => {
  const folder = mkdtempSync(join(tmpdir(), "limber-store-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
};
