import type { FaultId } from "../../../diagnosis/model/knowledge/faults.ts";
import { nameTrouble, writtenName } from "../../../domain/problem/identity.ts";
import type { CleaningId, DirtId } from "../../../domain/trade/cleanings.ts";
import type { CoverId, HoldPointId } from "../../../domain/trade/hold-points.ts";
import type { InspectionId } from "../../../domain/trade/inspections.ts";
import type { ReadingId } from "../../../domain/trade/readings.ts";
import type { OpenDanger } from "../../release/dangers.ts";
import type { Reason } from "../../release/rules.ts";
import type { Next } from "../job.ts";

/** What a person is asked to do by hand just now. Nothing moves meanwhile: the DMX line is at rest. */
export type HandTask =
  /** `step` asked for it, or it is due before something behind a cover, or before the step `next`. */
  | {
      readonly kind: "hold-point";
      readonly point: HoldPointId;
      readonly step: string | undefined;
      readonly next: Next | undefined;
    }
  | {
      readonly kind: "look";
      readonly inspection: InspectionId;
      readonly why: "proposed" | "due" | "again";
      readonly note: string;
      readonly photo: string;
    }
  /** Looks under one cover, answered together: all good, after the exceptions were answered one by one. `more` of the same cover follow. */
  | {
      readonly kind: "looks";
      readonly cover: CoverId;
      readonly inspections: readonly InspectionId[];
      readonly more: number;
    }
  /** How dirty did it come back? */
  | { readonly kind: "dirt" }
  /** All that is to be cleaned, answered together in the same way. */
  | { readonly kind: "cleans"; readonly cleanings: readonly CleaningId[]; readonly dirt: DirtId }
  | { readonly kind: "clean"; readonly cleaning: CleaningId; readonly dirt: DirtId; readonly note: string }
  | {
      readonly kind: "reading";
      readonly reading: ReadingId;
      /** Undefined: measured again because of a danger. */
      readonly step: string | undefined;
      readonly value: number | undefined;
      readonly initials: string;
      readonly note: string;
    }
  /** Dangers, and inspections that forbid power: it is neither closed nor switched on before they are repaired and good. */
  | { readonly kind: "blocked"; readonly dangers: readonly [OpenDanger, ...OpenDanger[]] }
  /** What was it? The likeliest first. */
  | { readonly kind: "fault"; readonly choices: readonly FaultId[]; readonly note: string }
  | {
      readonly kind: "mend";
      readonly mended: FaultId | "something-else";
      readonly part: string;
      readonly minutes: number | undefined;
      readonly initials: string;
      readonly note: string;
    }
  /** A step that failed now and then: how many clean passes there were, and how many would be needed. */
  | { readonly kind: "once-more"; readonly index: number; readonly clean: number; readonly needed: number }
  /** The end: sign it back, put it by, or leave it as it stands. */
  | { readonly kind: "sign"; readonly reasons: readonly Reason[]; readonly note: string };

export type TaskOf<K extends HandTask["kind"]> = Extract<HandTask, { kind: K }>;

/**
 * A name for the open question. `said` is how many events were written before it, from 0: it
 * tells the same question asked twice apart.
 */
export const handQuestion = (task: HandTask, said: number): string => `${aboutOf(task)}#${said}`;

const aboutOf = (task: HandTask): string => {
  switch (task.kind) {
    case "hold-point":
      return `hold-point:${task.point}`;
    case "look":
      return `look:${task.inspection}`;
    case "looks":
      return `looks:${task.inspections.join()}`;
    case "cleans":
      return `cleans:${task.cleanings.join()}`;
    case "clean":
      return `clean:${task.cleaning}`;
    case "reading":
      return `reading:${task.reading}`;
    case "mend":
      return `mend:${task.mended}`;
    case "once-more":
      return `once-more:${task.index}`;
    case "blocked":
    case "dirt":
    case "fault":
    case "sign":
      return task.kind;
    default:
      return task satisfies never;
  }
};

/** A typed text as the journal takes it: without zero characters, and without blanks around it. */
export const typedText = (text: string): string => text.replaceAll("\0", "").trim();

/** Initials of whoever measured or repaired; nothing where nobody could read them. */
export const typedInitials = (text: string): string => (nameTrouble(text) === undefined ? writtenName(text) : "");

/**
 * The number that was typed, 0 or more, in the unit of what is asked. A comma is a point to half of the
 * world. Undefined for what is no number.
 */
export const typedNumber = (text: string): number | undefined => {
  const value = Number(text.trim().replace(",", "."));
  return text.trim() === "" || !Number.isFinite(value) || value < 0 ? undefined : value;
};
