import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { lint } from "../../src/data/profile/lint/lint.ts";
import { readProfile } from "../../src/data/profile/parse.ts";
import { readSequence } from "../../src/data/sequence/parse.ts";
import { tellDoubts } from "../../src/domain/problem/problem.ts";
import { compile } from "../../src/plan/compile.ts";
import { lintSequence } from "../../src/plan/lint.ts";
import { must, shippedBench, shippedProfile } from "../kit/shipped.ts";

/** The data files that a page shows whole. */
const shownIn = (page: string) => {
  const blocks = [...readFileSync(page, "utf8").matchAll(/^```yaml\n([\s\S]*?)^```$/gm)].map(([, text = ""]) => text);
  const beginning = (key: string) =>
    blocks.filter((text) => text.split("\n").some((line) => line.startsWith(`${key}: `)));
  return { profiles: beginning("profile"), sequences: beginning("sequence"), blocks };
};

test.each(["docs/guide/new-kind.md", "DEVELOPERS.md"])(
  "%s shows a whole profile and a whole sequence, as they can be copied",
  (page) => {
    const { profiles, sequences, blocks } = shownIn(page);
    expect([profiles.length, sequences.length, blocks.length]).toEqual([1, 1, 2]);
    const read = must(readProfile(page, profiles[0] ?? ""));
    expect(tellDoubts(lint(read))).toBe("");
    const sequence = must(readSequence(page, sequences[0] ?? ""));
    expect(tellDoubts(lintSequence(sequence, [read.profile, shippedProfile("spot-16bit")], shippedBench()))).toBe("");
    const { steps } = compile(read.profile, sequence.sequence, shippedBench());
    expect(steps.filter(({ fitted }) => fitted).length).toBeGreaterThanOrEqual(2);
  },
);
