import { problemAt } from "../../../domain/problem/document.ts";
import type { Doubt } from "../../../domain/problem/doubt.ts";
import { byPlace } from "../../../domain/problem/problem.ts";
import type { ReadProfile } from "../parse.ts";
import { RULES } from "./rules.ts";

/** What is doubtful in a profile, first in the file first. What its own `allow` names with a reason is left out. */
export const lint = (read: ReadProfile): readonly Doubt[] => {
  const found = RULES.map((rule) => ({ rule, findings: rule.find(read) }));
  const allowed = Object.keys(read.written.allow ?? {});
  const doubts = found
    .filter(({ rule }) => !allowed.includes(rule.name))
    .flatMap(({ rule, findings }) =>
      findings.map(
        ({ path, at, message, instead }): Doubt => ({
          rule: rule.name,
          why: rule.why,
          problem: problemAt(read.file, path, { message, hint: instead, at }),
        }),
      ),
    );
  const idle = allowed.filter((name) =>
    found.some(({ rule, findings }) => rule.name === name && findings.length === 0),
  );
  return inOrder([...doubts, ...idle.map((name) => idleException(read, name))]);
};

const idleException = ({ file }: ReadProfile, name: string): Doubt => ({
  rule: "allow",
  why: "An exception that is no longer needed hides the next mistake of its kind.",
  problem: problemAt(file, ["allow", name], {
    message: `nothing in this profile needs to be allowed by "${name}"`,
    hint: "leave the line out",
    at: "key",
  }),
});

const inOrder = (doubts: readonly Doubt[]): readonly Doubt[] =>
  byPlace(doubts.map(({ problem }) => problem)).flatMap(
    (problem) => doubts.find((doubt) => doubt.problem === problem) ?? [],
  );
