import type { TriedCase } from "../../src/app/simulated/trial-case.ts";

/** A ranking of these, the first believed in most. */
export const rankedAs = (...ids: readonly string[]): TriedCase["ranked"] =>
  ids.map((id, i) => ({ id, probability: 0.6 / (i + 1) }));

/** A run of a slack iris lever that was named at once and of which nothing more was done, but for what is said. */
export const triedCase = (changes: Partial<TriedCase> = {}): TriedCase => ({
  kind: "one",
  set: ["iris-lever-slack"],
  seed: 1,
  watcher: 0,
  aside: false,
  right: [["iris-lever"]],
  ranked: rankedAs("iris-lever"),
  rankedBefore: rankedAs("iris-lever"),
  settled: [],
  watchedMinutes: 4,
  followUps: 0,
  tests: [],
  quiet: false,
  inspected: [],
  closedAfter: [],
  observations: [],
  ...changes,
});
