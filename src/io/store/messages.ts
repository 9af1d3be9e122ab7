import type { Seconds } from "../../domain/units.ts";
import type { Which } from "../../run/events/which.ts";
import type { JournalTrouble } from "../../run/ports.ts";
import type { Teaching } from "./derived.ts";
import type { FixtureAsked, StandingRow } from "./fixtures.ts";
import type { Progress } from "./fold.ts";
import type { Row, StoredRow } from "./row.ts";

/** What may be asked of the worker thread. It does one thing after the other, in the order asked. */
export type Ask =
  | { readonly kind: "open"; readonly file: string; readonly patience: Seconds }
  | { readonly kind: "insert"; readonly rows: readonly Row[] }
  | { readonly kind: "page"; readonly run: string | undefined; readonly after: number; readonly limit: number }
  | { readonly kind: "backup"; readonly file: string }
  | { readonly kind: "catch-up"; readonly most: number }
  | { readonly kind: "briefs"; readonly which: Which; readonly least: number }
  | { readonly kind: "teaching"; readonly least: number }
  | { readonly kind: "standings"; readonly which: FixtureAsked; readonly least: number; readonly most: number }
  | { readonly kind: "forget" }
  | { readonly kind: "close" };

export interface Answers {
  readonly open: undefined;
  readonly insert: undefined;
  readonly page: readonly StoredRow[];
  readonly backup: undefined;
  readonly "catch-up": Progress;
  readonly briefs: readonly string[] | undefined;
  readonly teaching: Teaching | undefined;
  readonly standings: readonly StandingRow[] | undefined;
  readonly forget: Progress;
  readonly close: undefined;
}

export interface Question {
  readonly number: number;
  readonly ask: Ask;
}

/** A JournalError as it travels between threads, where classes are lost. */
export interface Trouble {
  readonly code: JournalTrouble;
  readonly message: string;
  /** In the words of SQLite or the system. */
  readonly cause: string;
}

export type Reply =
  | { readonly number: number; readonly kind: "done"; readonly value: Answers[keyof Answers] }
  | { readonly number: number; readonly kind: "trouble"; readonly trouble: Trouble }
  | { readonly number: number; readonly kind: "bug"; readonly message: string };
