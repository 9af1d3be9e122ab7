import type { Bench } from "../../data/bench/bench.ts";
import type { Profile } from "../../data/profile/profile.ts";
import type { ReadSequence } from "../../data/sequence/parse.ts";
import type { Sequence } from "../../data/sequence/sequence.ts";
import { type Path, problemAt } from "../../domain/problem/document.ts";
import type { Doubt } from "../../domain/problem/problem.ts";
import { compile } from "../compile.ts";
import {
  dwellTooShort,
  fitsNothing,
  flashesInView,
  lightNeverSeen,
  powerUpLate,
  type SequenceRule,
  saidTwice,
  watchedTooLong,
} from "./rules.ts";

export const SEQUENCE_RULES: readonly SequenceRule[] = [
  flashesInView,
  fitsNothing,
  lightNeverSeen,
  dwellTooShort,
  powerUpLate,
  saidTwice,
  watchedTooLong,
];

/** What is doubtful in a sequence, played on any of these kinds of fixture on this bench; first in the file first. */
export const lintSequence = (
  { file, sequence }: ReadSequence,
  profiles: readonly Profile[],
  bench: Bench,
): readonly Doubt[] => {
  const worked = { sequence, timelines: profiles.map((profile) => compile(profile, sequence, bench)) };
  return SEQUENCE_RULES.flatMap(({ name, why, find }) =>
    find(worked).map(({ path, message, instead }) => ({
      rule: name,
      why,
      problem: problemAt(file, inFile(sequence, path), { message, hint: instead, at: "key" }),
    })),
  ).sort((a, b) => (a.problem.place?.line ?? 0) - (b.problem.place?.line ?? 0));
};

/** Driven steps are counted by themselves; in the file what is done by hand stands between them. */
const inFile = ({ byHand }: Sequence, [steps = "", index, ...deeper]: Path): Path =>
  typeof index === "number"
    ? [steps, index + byHand.filter(({ before }) => before <= index).length, ...deeper]
    : [steps];
