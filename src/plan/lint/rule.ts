import type { Sequence } from "../../data/sequence/sequence.ts";
import type { Path } from "../../domain/problem/document.ts";
import type { Timeline } from "../timeline.ts";

/** A sequence worked out for every kind of fixture that it may be played on. */
interface Worked {
  readonly sequence: Sequence;
  readonly timelines: readonly Timeline[];
}

/** Something that can be played and is yet of little use, or should not be done in front of people. */
export interface SequenceRule {
  readonly name: string;
  /** One sentence: what goes wrong at the bench when it is left as it is. */
  readonly why: string;
  readonly find: (worked: Worked) => readonly SequenceFinding[];
}

interface SequenceFinding {
  /** Where in the file. */
  readonly path: Path;
  readonly message: string;
  readonly instead: string;
}
