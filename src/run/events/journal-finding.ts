import { type ChainHead, type PrintedHead, printedHead } from "./chain.ts";

/** What a check of a journal finds wrong. Direct editing of the file is not prevented; it shows here. */
export type JournalFinding =
  /** Numbers that are not there. */
  | { readonly kind: "gap"; readonly origin: string; readonly from: number; readonly to: number }
  /** An event that is not as it was written, or is filed under another run than it says. */
  | ({ readonly kind: "changed" } & EventPlace)
  /** Its hash before is not that of the event before: something was taken out or put in, and the numbers closed up. */
  | ({ readonly kind: "unchained" } & EventPlace)
  /** The chain once went further: an older copy was put back, or the end is lost. */
  | { readonly kind: "ended"; readonly known: ChainHead; readonly here: number }
  /** What keeps the database from changing events, or one of its tables. */
  | { readonly kind: "schema"; readonly type: string; readonly name: string }
  /** What is kept ready does not follow from the events. */
  | { readonly kind: "derived"; readonly of: "run" | "fixture"; readonly name: string }
  /** What stands on a sheet or label is not in this journal. */
  | { readonly kind: "printed"; readonly head: PrintedHead };

interface EventPlace {
  readonly origin: string;
  readonly number: number;
  readonly run: string;
  /** ISO 8601, UTC. */
  readonly at: string;
}

/** A finding that a person has accepted, or that a rescue has written down. */
export interface AcceptedFinding {
  readonly key: string;
  readonly words: string;
}

/** A key that tells findings apart, the same at every check. */
export const findingKey = (finding: JournalFinding): string => {
  switch (finding.kind) {
    case "gap":
      return `gap ${finding.origin} ${finding.from}-${finding.to}`;
    case "changed":
    case "unchained":
      return `${finding.kind} ${finding.origin} ${finding.number}`;
    case "ended":
      return `ended ${finding.known.origin} ${finding.known.number}`;
    case "schema":
      return `schema ${finding.name}`;
    case "derived":
      return `derived ${finding.of} ${finding.name}`;
    case "printed":
      return `printed ${printedHead(finding.head)}`;
    default:
      return finding satisfies never;
  }
};

/** A finding of the journal's check as one sentence. */
export const findingInWords = (finding: JournalFinding): string => {
  switch (finding.kind) {
    case "gap":
      return gapInWords(finding);
    case "changed":
      return `event ${placeInWords(finding)} is not as it was written`;
    case "unchained":
      return `event ${placeInWords(finding)} does not follow the event before it: one was taken out or put in`;
    case "ended":
      return `bench ${finding.known.origin} had events up to number ${finding.known.number}, here it ends at ${finding.here}: an older copy was put back, or the end is lost`;
    case "schema":
      return `the ${finding.type} ${finding.name} of the database is missing or not as it was made`;
    case "derived":
      return `the derived table of ${finding.of} ${finding.name} does not follow from its events ("limber rebuild" makes it again)`;
    case "printed":
      return `${printedHead(finding.head)}, as it is printed, is not in this journal: it is another journal, an older copy, or was changed since`;
    default:
      return finding satisfies never;
  }
};

const gapInWords = ({ origin, from, to }: { readonly origin: string; readonly from: number; readonly to: number }) =>
  from === to
    ? `event ${from} of bench ${origin} is missing`
    : `events ${from} to ${to} of bench ${origin} are missing`;

const placeInWords = ({ origin, number, run, at }: EventPlace): string =>
  `${number} of bench ${origin} (run ${run}, ${at.slice(0, 16).replace("T", " ")})`;
