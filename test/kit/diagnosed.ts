import { createHash } from "node:crypto";
import { serialize } from "node:v8";
import { type Diagnosis, diagnose, type Findings } from "../../src/run/machine/diagnose.ts";

/**
 * What the thread of the diagnosis would answer. Most tests come past the same findings on their way, and the same findings
 * have the same answer: it is worked out once.
 */
export const diagnosed = (findings: Findings): Diagnosis => {
  const key = createHash("sha256").update(serialize(findings)).digest("hex");
  const diagnosis = answers.get(key) ?? diagnose(findings);
  answers.set(key, diagnosis);
  return diagnosis;
};

const answers = new Map<string, Diagnosis>();
